import type { Fault, LineShape, LinkConfig, PortSettings } from '@taptrue/protocol';
import type { Sifted } from './sift-readings.ts';
import type { LeadSigns } from './transport.ts';

/** What the faults of one link name: the device, and how its line is set. */
export interface LinkNames {
  /** `indicator` or `readout`. */
  device: string;
  title: string;
  shape: Pick<LineShape, 'title' | 'port' | 'signals' | 'trigger'>;
  config: LinkConfig;
}

const PARITY_LETTER = { none: 'N', even: 'E', odd: 'O' } as const;

/** `9600 8N1`. */
export function settingsText(settings: PortSettings): string {
  return `${settings.baudRate} ${settings.dataBits}${PARITY_LETTER[settings.parity]}${settings.stopBits}`;
}

/** `lead`: what the port told of its lead while nothing has come since it was opened; null: nothing is known. */
export function silentFault(
  names: LinkNames,
  silentAfterMs: number,
  lead: LeadSigns | null = null,
): Fault {
  const asked = names.shape.trigger === 'asked' ? ' It is asked and does not answer.' : '';
  return {
    code: 'line-silent',
    what: `The ${names.device} on ${names.title} has sent nothing for ${silentAfterMs / 1000} s.${asked}`,
    got: lead === null ? '' : leadGot(lead),
    remedy: `${lead === null ? '' : leadRemedy(names, lead)}Check that it is switched on and its cable is in, and that it is set to send. ${speedRemedy(names)}`,
  };
}

function leadGot({ setsLines, status }: LeadSigns): string {
  if (!setsLines) return 'the port refused to set DTR and RTS';
  return isDark(status) ? 'nothing since it was opened; CTS, DSR and DCD off' : '';
}

/** Said only where the port shows that power may be missing; a line that is on may be ours sent back. */
function leadRemedy({ config, shape }: LinkNames, { setsLines, status }: LeadSigns): string {
  if (!setsLines) {
    return 'This port cannot raise DTR and RTS: a lead that lives on them has no power on it. ';
  }
  if (!isDark(status)) return '';
  const { dtr, rts } = (config.source.kind === 'serial' && config.source.lines) || shape.signals;
  const level = (up: boolean) => (up ? 'up' : 'down');
  return `No power is seen on the interface lines, with DTR ${level(dtr)} and RTS ${level(rts)}. A lead with only its data wires never shows any; one without a battery may want other levels, which Find tries. `;
}

function isDark(status: LeadSigns['status']): boolean {
  return status !== null && !status.cts && !status.dsr && !status.dcd;
}

export function notUnderstoodFault(names: LinkNames, text: string): Fault {
  return {
    code: 'not-understood',
    what: `Bytes arrive from the ${names.device} on ${names.title}, but no whole reading of the shape "${names.shape.title}".`,
    got: text,
    remedy:
      `${speedRemedy(names)} Or choose another line shape; taptrue listen shows the bytes.`.trim(),
  };
}

export function tooLongFault(names: LinkNames, longestBytes: number, text: string): Fault {
  return {
    code: 'frame-too-long',
    what: `More than ${longestBytes} bytes came from the ${names.device} on ${names.title} without an end of line.`,
    got: text,
    remedy:
      `${speedRemedy(names)} Or choose a line shape that ends as the device ends its lines.`.trim(),
  };
}

/** Why a whole frame is not used. */
export function siftedFault(
  names: Pick<LinkNames, 'device' | 'title'>,
  sifted: Exclude<Sifted, { kind: 'ours' | 'second' }>,
  text: string,
): Fault {
  switch (sifted.kind) {
    case 'other channel':
      return {
        code: 'channel-not-heard',
        what: `The ${names.device} on ${names.title} sends channel ${sifted.channel}; nothing of channel ${sifted.wanted} arrives.`,
        got: text,
        remedy: `Choose channel ${sifted.channel}, or switch channel ${sifted.wanted} on.`,
      };
    case 'other unit':
      return {
        code: 'unit-changed',
        what: `The ${names.device} now sends ${unitWord(sifted.sent)}; it was read as ${unitWord(sifted.expected)}. Its readings are refused.`,
        got: text,
        remedy: `Switch the device back to ${unitWord(sifted.expected)} and check its zero, or connect it anew with the other unit.`,
      };
    case 'no unit':
      return {
        code: 'unit-not-sent',
        what: `The ${names.device} on ${names.title} sends no unit with this reading, and none is set.`,
        got: text,
        remedy: 'Set mm or in for this device, as its display shows.',
      };
  }
}

export function lostFault(names: Pick<LinkNames, 'device' | 'title'>, cause: Fault | null): Fault {
  return (
    cause ?? {
      code: 'connection-lost',
      what: `The connection to the ${names.device} on ${names.title} ended.`,
      got: '',
      remedy: 'Check its cable; it is tried again by itself.',
    }
  );
}

export function openingHangsFault(names: Pick<LinkNames, 'title'>, withinMs: number): Fault {
  return {
    code: 'opening-hangs',
    what: `${names.title} could not be opened within ${withinMs / 1000} s.`,
    got: '',
    remedy: 'Unplug the adapter and plug it in again; it is tried again by itself.',
  };
}

function unitWord(unit: 'mm' | 'in'): string {
  return unit === 'mm' ? 'millimetres' : 'inches';
}

/** Speed is a matter of serial ports only. */
function speedRemedy({ config, shape }: LinkNames): string {
  if (config.source.kind !== 'serial') return '';
  const set = settingsText(config.source.settings ?? shape.port);
  return `Is the speed right? The port is set to ${set}; compare with the device's own setting.`;
}
