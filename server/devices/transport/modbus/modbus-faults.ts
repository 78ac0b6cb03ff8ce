import type { Fault, RegisterRead } from '@taptrue/protocol';
import type { WireTrouble } from './wire.ts';

/** What the faults of one Modbus device name. */
export interface ModbusNames {
  /** `indicator` or `readout`. */
  device: string;
  title: string;
  read: RegisterRead;
  /** On a serial line the unit and the speed can be wrong, on a network only the unit. */
  serial: boolean;
}

/** The reasons a device may give, as the standard numbers them, with what to do about each. */
const REASONS: Readonly<Record<number, { word: string; remedy: (read: RegisterRead) => string }>> =
  {
    1: {
      word: 'it does not know this function',
      remedy: ({ function: code }) =>
        `Read with function ${code === 3 ? 4 : 3} instead: 3 is for holding registers, 4 for input registers.`,
    },
    2: {
      word: 'it has no such register',
      remedy: ({ address, function: code }) =>
        `Look the register up in the device's manual. Addresses are counted from 0 here: ${address} is what manuals call ${address + (code === 3 ? 40001 : 30001)}. A number of 32 bits takes two registers.`,
    },
    3: {
      word: 'it does not accept the number of registers asked for',
      remedy: () => 'Choose the other form: 16 bits take one register, 32 bits two.',
    },
    4: {
      word: 'it failed while reading',
      remedy: () => 'Look at its own display for an error; switch it off and on.',
    },
    5: { word: 'it needs longer for this', remedy: () => 'Ask less often.' },
    6: {
      word: 'it is busy',
      remedy: () => 'Ask less often; another program may be asking it too.',
    },
    8: {
      word: 'its memory has an error',
      remedy: () => 'Switch it off and on; if it stays, it wants repair.',
    },
    10: {
      word: 'the gateway has no way to this unit',
      remedy: ({ unitId }) => `Check the unit number (now ${unitId}) and the gateway's settings.`,
    },
    11: {
      word: 'the gateway gets no answer from this unit',
      remedy: ({ unitId }) =>
        `Check that the device is switched on, and its unit number (now ${unitId}).`,
    },
  };

/** The device answered that it will not: the standard calls it an exception. */
export function refusedFault(names: ModbusNames, reason: number, got: string): Fault {
  const known = REASONS[reason];
  return {
    code: 'modbus-refused',
    what: `The ${names.device} on ${names.title} answers, but refuses: ${known?.word ?? 'for a reason it does not name'} (exception ${reason}).`,
    got,
    remedy: known?.remedy(names.read) ?? "Look this exception up in the device's manual.",
  };
}

/** Asked again and again, nothing comes: the commonest sign of a wrong unit number. */
export function noAnswerFault(names: ModbusNames, silentAfterMs: number): Fault {
  const speed = names.serial ? ', the speed and parity of the port' : '';
  return {
    code: 'modbus-no-answer',
    what: `The ${names.device} on ${names.title} is asked as unit ${names.read.unitId} and has not answered for ${silentAfterMs / 1000} s.`,
    got: '',
    remedy: `Check that it is switched on, its unit number${speed}: a unit that is not there does not answer at all.`,
  };
}

/** Something comes in answer, but no whole one of this unit with a right checksum. */
export function garbledFault(names: ModbusNames, trouble: WireTrouble): Fault {
  const { badChecksums, firstBytes } = trouble;
  return {
    code: 'modbus-garbled',
    what:
      badChecksums > 0
        ? `The ${names.device} on ${names.title} answers, but the checksum of its answer is wrong.`
        : `What comes from ${names.title} is no Modbus answer of unit ${names.read.unitId}.`,
    got: firstBytes
      .toString('hex')
      .toUpperCase()
      .replace(/..(?=.)/g, '$& '),
    remedy: names.serial
      ? 'Compare speed and parity with the device (even parity is the usual one for Modbus), shorten the cable, end the line at both ends; no two devices may have one unit number.'
      : 'Check the port number (502 is the usual one for Modbus), and that nothing else answers there.',
  };
}
