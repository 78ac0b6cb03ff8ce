import {
  type ByteOrder,
  type LinkSource,
  type PortSettings,
  type RegisterForm,
  type RegisterRead,
  usualRegisterRead,
} from '@taptrue/protocol';
import {
  hostFromText,
  oneOfIn,
  pairsFromText,
  type Read,
  wholeNumberIn,
} from '../pairs-from-text.ts';

/** The port number that the standard gives Modbus. */
const USUAL_PORT = 502;
const KEYS = ['unit', 'holding', 'input', 'as', 'order', 'count', 'every', 'wait'];
const FORMS: readonly RegisterForm[] = ['int16', 'uint16', 'int32', 'uint32', 'float32'];
const ORDERS: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];

export const MODBUS_TEXT =
  'modbus-tcp://HOST or modbus-rtu:PORT, then ,unit=1,holding=REGISTER or input=REGISTER (counted from 0), as=int16, order=ABCD, count=0.001, every=100, wait=500';

/** `modbus-tcp://host:502,unit=1,holding=100,as=int32,order=CDAB,count=0.0001`. Pure. */
export function modbusTcpFromText(text: string): Read<LinkSource> {
  const split = pairsFromText(text);
  if (split === null) return twice();
  const place = hostFromText(split.name.replace(/\/$/, ''), USUAL_PORT);
  if (!place.ok) return place;
  const read = readFrom(split.pairs, KEYS);
  return read.ok
    ? { ok: true, value: { kind: 'modbus tcp', ...place.value, read: read.value } }
    : read;
}

/** `modbus-rtu:/dev/ttyUSB0,unit=1,holding=0,line=9600-8N1`. Pure. */
export function modbusRtuFromText(text: string): Read<LinkSource> {
  const split = pairsFromText(text);
  if (split === null) return twice();
  if (split.name === '')
    return { ok: false, why: 'modbus-rtu: names no port; give modbus-rtu:COM3' };
  const read = readFrom(split.pairs, [...KEYS, 'line']);
  if (!read.ok) return read;
  const settings = settingsFrom(split.pairs.get('line'));
  if (!settings.ok) return settings;
  const source = { kind: 'modbus rtu', path: split.name, settings: settings.value } as const;
  return { ok: true, value: { ...source, read: read.value } };
}

function readFrom(pairs: ReadonlyMap<string, string>, keys: readonly string[]): Read<RegisterRead> {
  const stray = [...pairs.keys()].find((key) => !keys.includes(key));
  if (stray !== undefined)
    return { ok: false, why: `${stray}= is not known; known are ${keys.join(', ')}` };
  if (pairs.has('holding') && pairs.has('input')) {
    return { ok: false, why: 'Give holding= or input=, not both' };
  }
  const usual = usualRegisterRead();
  const unitId = wholeNumberIn(pairs, 'unit', usual.unitId, 0, 255);
  const address = wholeNumberIn(pairs, pairs.has('input') ? 'input' : 'holding', 0, 0, 65535);
  const form = oneOfIn(pairs, 'as', usual.form, FORMS);
  const order = oneOfIn(pairs, 'order', usual.order, ORDERS);
  const everyMs = wholeNumberIn(pairs, 'every', usual.everyMs, 20, 10_000);
  const answerWithinMs = wholeNumberIn(pairs, 'wait', usual.answerWithinMs, 20, 10_000);
  if (!unitId.ok) return unitId;
  if (!address.ok) return address;
  if (!form.ok) return form;
  if (!order.ok) return order;
  if (!everyMs.ok) return everyMs;
  if (!answerWithinMs.ok) return answerWithinMs;
  const perCount = countFrom(pairs.get('count'), form.value);
  if (!perCount.ok) return perCount;
  return {
    ok: true,
    value: {
      unitId: unitId.value,
      function: pairs.has('input') ? 4 : 3,
      address: address.value,
      form: form.value,
      order: order.value,
      perCount: perCount.value,
      everyMs: everyMs.value,
      answerWithinMs: answerWithinMs.value,
    },
  };
}

/** A float usually is a length already; a whole number is one of thousandths. */
function countFrom(text: string | undefined, form: RegisterForm): Read<number> {
  if (text === undefined) return { ok: true, value: form === 'float32' ? 1 : 0.001 };
  const value = Number(text);
  return /^\d*\.?\d+(e-?\d+)?$/i.test(text) && value > 0 && value <= 1000
    ? { ok: true, value }
    : { ok: false, why: `count=${text}: it takes the length of one count, such as 0.001` };
}

const PARITIES = { N: 'none', E: 'even', O: 'odd' } as const;

function settingsFrom(text: string | undefined): Read<PortSettings | null> {
  if (text === undefined) return { ok: true, value: null };
  const match = /^(\d{3,7})-([78])([NEO])([12])$/i.exec(text);
  const baudRate = Number(match?.[1]);
  if (match === null || baudRate < 110 || baudRate > 4_000_000) {
    return { ok: false, why: `line=${text}: it takes speed and framing, such as 19200-8E1` };
  }
  const parity = PARITIES[match[3]!.toUpperCase() as 'N' | 'E' | 'O'];
  const dataBits = match[2] === '7' ? 7 : 8;
  const stopBits = match[4] === '2' ? 2 : 1;
  return { ok: true, value: { baudRate, dataBits, parity, stopBits } };
}

function twice(): Read<never> {
  return { ok: false, why: 'One of the words behind the commas comes twice' };
}
