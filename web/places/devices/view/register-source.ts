import type {
  ByteOrder,
  LengthUnit,
  LinkConfig,
  Parsed,
  RegisterForm,
  RegisterRead,
} from '@taptrue/protocol';
import { FRAMINGS, type Framing } from './link-source-text.ts';
import { hostAndPort, wholeNumber } from './typed-numbers.ts';

/** The form for registers, as it was typed and chosen. */
export interface TypedRegisters {
  over: 'network' | 'serial port';
  /** `host`, `host:port`, or the name of a port. */
  place: string;
  unitId: string;
  function: 3 | 4;
  address: string;
  form: RegisterForm;
  order: ByteOrder;
  /** Modbus carries no unit: it must be chosen. */
  unit: LengthUnit | null;
  perCount: string;
  secondAddress: string;
  everyMs: string;
  answerWithinMs: string;
  baud: string;
  framing: Framing;
}

/** What most devices are set to when they leave the box. */
export function firstRegisters(): TypedRegisters {
  return {
    over: 'network',
    place: '',
    unitId: '1',
    function: 3,
    address: '0',
    form: 'int16',
    order: 'ABCD',
    unit: null,
    perCount: '',
    secondAddress: '',
    everyMs: '100',
    answerWithinMs: '500',
    baud: '19200',
    framing: '8E1',
  };
}

export const FORM_WORDS: readonly { value: RegisterForm; label: string }[] = [
  { value: 'int16', label: '16 bits, with sign' },
  { value: 'uint16', label: '16 bits, no sign' },
  { value: 'int32', label: '32 bits, with sign' },
  { value: 'uint32', label: '32 bits, no sign' },
  { value: 'float32', label: '32 bits, floating point' },
];

export const ORDER_WORDS: readonly { value: ByteOrder; label: string }[] = [
  { value: 'ABCD', label: 'ABCD: high word first' },
  { value: 'CDAB', label: 'CDAB: low word first' },
  { value: 'BADC', label: 'BADC: bytes exchanged' },
  { value: 'DCBA', label: 'DCBA: all turned round' },
];

const MODBUS_PORT = 502;
const PARITY = { N: 'none', E: 'even', O: 'odd' } as const;

/** How manuals that count from 40001 or 30001 call this register; empty where there is no such number. */
export function manualNumber(typed: Pick<TypedRegisters, 'address' | 'function'>): string {
  const address = wholeNumber(typed.address, 'register', 0, 65535);
  if (!address.ok) return '';
  const first = typed.function === 3 ? 40001 : 30001;
  return address.value < 9999 ? `${first + address.value} in manuals that count from ${first}` : '';
}

/** Length of one count where nothing was typed: thousandths, ten-thousandths of an inch, or a length as it is. */
export function usualCount(typed: Pick<TypedRegisters, 'form' | 'unit'>): string {
  if (typed.form === 'float32') return '1';
  return typed.unit === 'in' ? '0.0001' : '0.001';
}

/** What was typed, as a link is told it; or the first thing that does not fit, in words. */
export function registerConfigOf(typed: TypedRegisters): Parsed<LinkConfig> {
  const read = readOf(typed);
  if (!read.ok) return read;
  if (typed.unit === null) {
    return { ok: false, why: 'Choose inches or millimetres: registers carry no unit.' };
  }
  const second = typed.secondAddress.trim();
  if (second !== '') {
    const address = wholeNumber(second, 'second register', 0, 65535);
    if (!address.ok) return address;
  }
  const source = sourceOf(typed, read.value);
  if (!source.ok) return source;
  return {
    ok: true,
    value: {
      source: source.value,
      shape: '',
      unit: typed.unit,
      channel: null,
      ...(second === '' ? {} : { secondChannel: second }),
    },
  };
}

function readOf(typed: TypedRegisters): Parsed<RegisterRead> {
  const unitId = wholeNumber(typed.unitId, 'unit number', 0, 255);
  if (!unitId.ok) return unitId;
  const address = wholeNumber(typed.address, 'register', 0, 65535);
  if (!address.ok) return address;
  const everyMs = wholeNumber(typed.everyMs, 'time between requests', 20, 10_000);
  if (!everyMs.ok) return everyMs;
  const answerWithinMs = wholeNumber(typed.answerWithinMs, 'wait for an answer', 20, 10_000);
  if (!answerWithinMs.ok) return answerWithinMs;
  const counted = typed.perCount.trim() || usualCount(typed);
  const perCount = Number(counted);
  if (!/^\d*\.?\d+$/.test(counted) || perCount <= 0 || perCount > 1000) {
    return {
      ok: false,
      why: `The length of one count is a number such as 0.001, not "${counted}".`,
    };
  }
  return {
    ok: true,
    value: {
      unitId: unitId.value,
      function: typed.function,
      address: address.value,
      form: typed.form,
      order: typed.order,
      perCount,
      everyMs: everyMs.value,
      answerWithinMs: answerWithinMs.value,
    },
  };
}

function sourceOf(typed: TypedRegisters, read: RegisterRead): Parsed<LinkConfig['source']> {
  const place = typed.place.trim();
  if (typed.over === 'network') {
    const at = hostAndPort(place, MODBUS_PORT);
    return at.ok ? { ok: true, value: { kind: 'modbus tcp', ...at.value, read } } : at;
  }
  if (place === '') return { ok: false, why: 'Choose a port from the list, or type one.' };
  const baudRate = wholeNumber(typed.baud, 'speed', 110, 4_000_000);
  if (!baudRate.ok) return baudRate;
  const [dataBits, parity, stopBits] = typed.framing;
  const settings = {
    baudRate: baudRate.value,
    dataBits: dataBits === '7' ? (7 as const) : (8 as const),
    parity: PARITY[parity as keyof typeof PARITY],
    stopBits: stopBits === '2' ? (2 as const) : (1 as const),
  };
  return { ok: true, value: { kind: 'modbus rtu', path: place, settings, read } };
}

/** Framings of eight bits: Modbus on a serial line has no others. */
export const REGISTER_FRAMINGS: readonly Framing[] = FRAMINGS.filter(
  (framing) => framing[0] === '8',
);
