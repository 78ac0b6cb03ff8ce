import type { LinkSource } from '@taptrue/protocol';
import { overhear } from '@taptrue/server/devices/transport/overhear.ts';
import { PortShare, shareKeyOf } from '@taptrue/server/devices/transport/share-port.ts';
import type { Transport, TransportEvents } from '@taptrue/server/devices/transport/transport.ts';
import { describe, expect, it } from 'vitest';
import { fault, ScriptedTransport } from './scripted-link.ts';

function sharing() {
  const share = new PortShare(() => 77);
  const opened: ScriptedTransport[] = [];
  const make = share.through('one', () => {
    const transport = new ScriptedTransport(() => undefined);
    opened.push(transport);
    return transport;
  });
  const listen = () => {
    const told: string[] = [];
    const events: TransportEvents = {
      opened: (atMs) => told.push(`opened ${atMs}`),
      bytes: (chunk, atMs) => told.push(`${Buffer.from(chunk).toString()} ${atMs}`),
      closed: (why) => told.push(`closed ${why?.code ?? ''}`),
    };
    const transport: Transport = make();
    transport.open(events);
    return { transport, told };
  };
  return { share, opened, listen };
}

const settled = () => new Promise<void>((resolve) => setImmediate(resolve));
const bytes = (text: string) => new Uint8Array(Buffer.from(text));

describe('one port for both devices of a bench', () => {
  it('is opened once, and heard by both', async () => {
    const { opened, listen } = sharing();
    const one = listen();
    opened[0]!.events.opened(5);
    const other = listen();
    await settled();
    opened[0]!.events.bytes(bytes('ab'), 9);
    expect(opened).toHaveLength(1);
    expect(one.told).toEqual(['opened 5', 'ab 9']);
    expect(other.told).toEqual(['opened 77', 'ab 9']);
  });

  it('tells both when it opens, where both waited', () => {
    const { opened, listen } = sharing();
    const both = [listen(), listen()];
    opened[0]!.events.opened(5);
    expect(both.map(({ told }) => told)).toEqual([['opened 5'], ['opened 5']]);
  });

  it('is let go when the last one goes, not before', async () => {
    const { share, opened, listen } = sharing();
    const [one, other] = [listen(), listen()];
    await one.transport.close();
    expect(opened[0]!.closedByLink).toBe(false);
    opened[0]!.events.opened(5);
    expect([one.told, other.told]).toEqual([[], ['opened 5']]);
    await other.transport.close();
    await other.transport.close();
    expect(opened[0]!.closedByLink).toBe(true);
    expect(share.portsOpen).toBe(0);
  });

  it('that is gone is gone for both, and opened anew by whoever tries first', () => {
    const { opened, listen } = sharing();
    const both = [listen(), listen()];
    opened[0]!.events.closed(fault('port-gone'), 9);
    expect(both.map(({ told }) => told)).toEqual([['closed port-gone'], ['closed port-gone']]);
    listen();
    listen();
    expect(opened).toHaveLength(2);
  });

  it('is named as soon as it is open, also by whoever overhears it', () => {
    const share = new PortShare(() => 0);
    const shared = share.through('one', () => new ScriptedTransport(() => undefined));
    const transport = overhear(shared, () => undefined)();
    expect(transport.title).toBe('');
    transport.open({ opened: () => {}, bytes: () => {}, closed: () => {} });
    expect(transport.title).not.toBe('');
  });

  it('takes what either of them sends', () => {
    const { opened, listen } = sharing();
    const [one, other] = [listen(), listen()];
    one.transport.write(bytes('R'));
    other.transport.write(bytes('Q'));
    expect(opened[0]!.written).toBe('RQ');
  });

  it('opens and closes a hundred times without one left open', async () => {
    const { share, opened, listen } = sharing();
    for (let round = 0; round < 100; round += 1) {
      const both = [listen(), listen()];
      await Promise.all(both.map(({ transport }) => transport.close()));
    }
    expect(opened).toHaveLength(100);
    expect(opened.every(({ closedByLink }) => closedByLink)).toBe(true);
    expect(share.portsOpen).toBe(0);
  });
});

describe('what may be shared', () => {
  const usual = {
    port: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
    signals: { dtr: true, rts: true },
  } as const;
  const serial = (change: object = {}): LinkSource => ({
    kind: 'serial',
    path: '/dev/ttyUSB0',
    settings: null,
    ...change,
  });

  it.each<[string, LinkSource, LinkSource, boolean]>([
    ['the same port', serial(), serial(), true],
    ['another port', serial(), serial({ path: '/dev/ttyUSB1' }), false],
    [
      'the same device under two names',
      serial({ identity: 'a' }),
      serial({ path: '/dev/ttyUSB1', identity: 'a' }),
      true,
    ],
    ['the usual speed, said and unsaid', serial(), serial({ settings: usual.port }), true],
    ['another speed', serial(), serial({ settings: { ...usual.port, baudRate: 4800 } }), false],
    ['one server', { kind: 'tcp', host: 'a', port: 1 }, { kind: 'tcp', host: 'a', port: 1 }, true],
  ])('%s', (_what, one, other, same) => {
    expect(shareKeyOf(one, usual) === shareKeyOf(other, usual)).toBe(same);
  });

  it('a simulated device is not', () => {
    expect(shareKeyOf({ kind: 'simulated', device: 'indicator' }, usual)).toBeNull();
  });
});
