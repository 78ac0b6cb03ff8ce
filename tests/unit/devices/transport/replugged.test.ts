import type { LinkConfig, LinkReport, PortDescription, Reading } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { LineSource } from '@taptrue/server/devices/transport/line-source.ts';
import { SerialByIdentity } from '@taptrue/server/devices/transport/serial-by-identity.ts';
import { describe, expect, it } from 'vitest';
import { FakeClock } from './fake-clock.ts';
import { fault, ScriptedTransport } from './scripted-link.ts';

const MINE = 'usb:0403:6001:K7Q1';
const port = (path: string, identity: string): PortDescription => ({
  path,
  identity,
  title: 'lead',
  knownBy: 'serial number',
});

/** A link to one device, on a computer whose ports are what `plugged` says. */
function replugging() {
  const clock = new FakeClock();
  const shape = shapeNamed('signed-decimal')!;
  let plugged: PortDescription[] = [port('/dev/ttyUSB0', MINE)];
  const opened: { path: string; transport: ScriptedTransport }[] = [];
  const readings: Reading[] = [];
  const reports: LinkReport[] = [];
  const source = {
    kind: 'serial',
    path: '/dev/ttyUSB0',
    settings: null,
    identity: MINE,
  } as const;
  const config: LinkConfig = { source, shape: shape.name, unit: 'in', channel: null };
  const maker = () =>
    new SerialByIdentity({
      source,
      ports: async () => plugged,
      open: (path) => {
        const transport = new ScriptedTransport((one) => one.events.opened(clock.now()));
        opened.push({ path, transport });
        return transport;
      },
      now: () => clock.now(),
    });
  const link = new Link({
    name: 'indicator',
    config,
    clock,
    source: new LineSource({ name: 'indicator', config, shape, clock, maker }),
    onReading: (reading) => readings.push(reading),
    onReport: (report) => reports.push(report),
  });
  const settled = () => new Promise<void>((resolve) => setImmediate(resolve));
  const pass = async (ms: number) => {
    for (let passed = 0; passed < ms; passed += 100) {
      clock.advance(100);
      await settled();
    }
  };
  return {
    link,
    opened,
    readings,
    pass,
    plug: (...ports: PortDescription[]) => {
      plugged = ports;
    },
    unplug: () => {
      plugged = [];
      opened.at(-1)!.transport.events.closed(fault('port-gone'), clock.now());
    },
    sends: (text: string) => {
      opened.at(-1)!.transport.events.bytes(new Uint8Array(Buffer.from(text)), clock.now());
    },
  };
}

describe('a device that is unplugged and plugged in again', () => {
  it('is taken up within two seconds under whatever name it comes back', async () => {
    const at = replugging();
    at.link.open();
    await at.pass(300);
    at.sends('\r\n+0.0125 in\r\n');
    expect(at.link.report().state).toBe('live');
    at.unplug();
    await at.pass(30_000);
    expect(at.link.report().state).toBe('lost');
    at.plug(port('/dev/ttyUSB3', MINE));
    await at.pass(2000);
    expect(at.opened.map(({ path }) => path)).toEqual(['/dev/ttyUSB0', '/dev/ttyUSB3']);
    at.sends('\r\n+0.0130 in\r\n');
    expect(at.link.report()).toMatchObject({ state: 'live', counters: { reconnects: 1 } });
    expect(at.readings.map(({ value }) => value)).toEqual([0.0125, 0.013]);
  });

  it('is not taken for another that got its name meanwhile; both are named, and it is awaited', async () => {
    const at = replugging();
    at.link.open();
    await at.pass(300);
    at.unplug();
    at.plug(port('/dev/ttyUSB0', 'usb:0403:6001:ZZ99'));
    await at.pass(5000);
    expect(at.opened).toHaveLength(1);
    const { state, fault: told } = at.link.report();
    expect(state).toBe('refused');
    expect(told).toMatchObject({ code: 'other-device', got: expect.stringMatching(/K7Q1.*ZZ99/) });
    at.plug(port('/dev/ttyUSB0', 'usb:0403:6001:ZZ99'), port('/dev/ttyUSB1', MINE));
    await at.pass(2000);
    expect(at.opened.at(-1)?.path).toBe('/dev/ttyUSB1');
  });

  it('a hundred times is opened a hundred times, with one timer', async () => {
    const at = replugging();
    at.link.open();
    await at.pass(300);
    for (let times = 1; times <= 100; times += 1) {
      at.unplug();
      at.plug(port(`/dev/ttyUSB${times % 7}`, MINE));
      await at.pass(2000);
      expect(at.opened).toHaveLength(times + 1);
    }
    expect(at.link.report().counters.reconnects).toBe(100);
  });
});
