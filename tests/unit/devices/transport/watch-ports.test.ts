import type { Fault, PortDescription } from '@taptrue/protocol';
import { SerialByIdentity } from '@taptrue/server/devices/transport/serial-by-identity.ts';
import type { Transport, TransportEvents } from '@taptrue/server/devices/transport/transport.ts';
import { LOOK_EVERY_MS, PortWatch } from '@taptrue/server/devices/transport/watch-ports.ts';
import { describe, expect, it } from 'vitest';
import { FakeClock } from './fake-clock.ts';

const port = (path: string, identity: string): PortDescription => ({
  path,
  identity,
  title: 'adapter',
  knownBy: 'serial number',
});
const settled = () => new Promise<void>((resolve) => setImmediate(resolve));

describe('the watch over the ports', () => {
  it('tells of a device that comes, goes, or is another under the same name, and of nothing else', async () => {
    const clock = new FakeClock();
    let ports = [port('/dev/ttyUSB0', 'a')];
    let sign = '1';
    let asked = 0;
    const told: string[][] = [];
    const watch = new PortWatch({
      clock,
      find: async () => {
        asked += 1;
        return ports;
      },
      signature: async () => sign,
      hindrance: async () => null,
      onChange: (now) => told.push(now.map(({ identity }) => identity)),
    });
    const second = async () => {
      clock.advance(LOOK_EVERY_MS);
      await settled();
    };
    await watch.start();
    await second();
    await second();
    expect(told).toEqual([['a']]);
    // Once, and once more: names and rights may come a moment after the device.
    expect(asked).toBe(2);
    await second();
    expect(asked).toBe(2);
    ports = [port('/dev/ttyUSB0', 'b')];
    sign = '2';
    await second();
    ports = [];
    sign = '3';
    await second();
    expect(told).toEqual([['a'], ['b'], []]);
    watch.stop();
    sign = '4';
    await second();
    expect(asked).toBe(4);
  });

  it('sees rights that come a second after the device', async () => {
    const clock = new FakeClock();
    let hindrance: Fault | null = { code: 'port-no-permission', what: '', got: '', remedy: '' };
    const told: (string | null)[] = [];
    const watch = new PortWatch({
      clock,
      find: async () => [port('/dev/ttyUSB0', 'a')],
      signature: async () => '1',
      hindrance: async () => hindrance,
      onChange: (now) => told.push(now[0]?.hindrance?.code ?? null),
    });
    await watch.start();
    hindrance = null;
    clock.advance(LOOK_EVERY_MS);
    await settled();
    expect(told).toEqual(['port-no-permission', null]);
    watch.stop();
  });

  it('looks at once where someone names a port, and goes on once a second', async () => {
    const clock = new FakeClock();
    let ports: PortDescription[] = [];
    let asked = 0;
    const watch = new PortWatch({
      clock,
      find: async () => {
        asked += 1;
        return ports;
      },
      signature: async () => null,
      hindrance: async () => null,
      onChange: () => undefined,
    });
    await watch.start();
    ports = [port('/dev/ttyUSB0', 'a')];
    await Promise.all([watch.lookNow(), watch.lookNow()]);
    expect(watch.ports.map(({ identity }) => identity)).toEqual(['a']);
    expect([asked, clock.timersSet]).toEqual([2, 1]);
    watch.stop();
    await watch.lookNow();
    expect([asked, clock.timersSet]).toEqual([2, 0]);
  });

  it('goes on looking where a list could not be had', async () => {
    const clock = new FakeClock();
    let fails = true;
    const told: number[] = [];
    const watch = new PortWatch({
      clock,
      find: async () => {
        if (fails) throw new Error('no udevadm');
        return [port('COM3', 'a')];
      },
      signature: async () => null,
      hindrance: async () => null,
      onChange: (now) => told.push(now.length),
    });
    await watch.start();
    fails = false;
    clock.advance(LOOK_EVERY_MS);
    await settled();
    expect(told).toEqual([1]);
    watch.stop();
  });
});

/** A port that says at once that it is open. */
class OpenPort implements Transport {
  closedTimes = 0;
  events: TransportEvents | null = null;
  constructor(readonly title: string) {}
  open(events: TransportEvents): void {
    this.events = events;
    events.opened(0);
  }
  write(): void {}
  async close(): Promise<void> {
    this.closedTimes += 1;
  }
}

describe('a port that is looked for by its device', () => {
  const opening = (ports: () => Promise<PortDescription[]>) => {
    const opened: OpenPort[] = [];
    const told: { opened: number; fault: Fault | null | undefined } = {
      opened: 0,
      fault: undefined,
    };
    const transport = new SerialByIdentity({
      source: { kind: 'serial', path: '/dev/ttyUSB0', settings: null, identity: 'a' },
      ports,
      open: (path) => {
        const inner = new OpenPort(path);
        opened.push(inner);
        return inner;
      },
      now: () => 0,
    });
    transport.open({
      opened: () => {
        told.opened += 1;
      },
      bytes: () => undefined,
      closed: (fault) => {
        told.fault = fault;
      },
    });
    return { transport, opened, told };
  };

  it('is opened under its new name', async () => {
    const { transport, told } = opening(async () => [port('/dev/ttyUSB3', 'a')]);
    await settled();
    expect(transport.title).toBe('/dev/ttyUSB3');
    expect(told).toEqual({ opened: 1, fault: undefined });
  });

  it('is not opened where another device has its name', async () => {
    const { opened, told } = opening(async () => [port('/dev/ttyUSB0', 'b')]);
    await settled();
    expect(opened).toEqual([]);
    expect(told.fault?.code).toBe('other-device');
  });

  it('is not opened after it was closed, and says nothing more', async () => {
    const { transport, opened, told } = opening(async () => [port('/dev/ttyUSB0', 'a')]);
    await transport.close();
    await settled();
    expect(opened).toEqual([]);
    expect(told).toEqual({ opened: 0, fault: null });
  });

  it('counts a list that cannot be had as not plugged in', async () => {
    const { told } = opening(async () => {
      throw new Error('no list');
    });
    await settled();
    expect(told.fault?.code).toBe('port-not-found');
  });
});
