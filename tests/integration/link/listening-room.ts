import type { Fault, LinkName, LinkReport, Reading, RecordEntryOf } from '@taptrue/protocol';
import { DeviceController } from '@taptrue/server/devices/device-controller.ts';
import { SHIPPED } from '@taptrue/server/devices/formats/shape-table.ts';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';

/** The devices of a bench that has nothing else, and all that they told. The caller closes `made`. */
export function listeningRoom() {
  const readings: Record<LinkName, Reading[]> = { indicator: [], readout: [] };
  const second: Reading[] = [];
  const reports: Partial<Record<LinkName, LinkReport>> = {};
  const faults: Fault[] = [];
  const unread: RecordEntryOf<'unread'>[] = [];
  const made = new DeviceController({
    clock: SYSTEM_CLOCK,
    demo: null,
    remembered: { indicator: null, readout: null },
    shapes: () => SHIPPED,
    onReading: (link, reading) => readings[link].push(reading),
    onSecond: (_link, reading) => second.push(reading),
    onReport: (link, report) => {
      reports[link] = report;
    },
    onPorts: () => undefined,
    onHealth: (_link, { raised }) => faults.push(...raised),
    onOtherDevice: () => undefined,
    onBytes: () => undefined,
    record: (entry) => unread.push(entry),
  });
  return { made, readings, second, reports, faults, unread };
}
