import type { ItemDescription } from './documents.ts';

/** Which data item is meant, or why none is. */
export type FoundItem =
  | { kind: 'found'; id: string }
  | { kind: 'not there'; positions: readonly string[] }
  | { kind: 'several machines'; devices: readonly string[] }
  /** `as`: what else it is than one value at one time; nothing where it is that. */
  | { kind: 'no length'; type: string; units: string; as: string };

/**
 * The position that is meant by an id, a name, or the name of an axis. Of one axis the actual position goes
 * before the commanded one, which moves before the table does, that of the axis before that of a part of it,
 * and the machine's own coordinates before the work's, which jump when a zero is set. Pure.
 */
export function findItem(items: readonly ItemDescription[], wanted: string): FoundItem {
  const byId = items.find(({ id }) => id === wanted);
  if (byId) return asLength(byId);
  const same = (text: string) => text.toLowerCase() === wanted.toLowerCase();
  const byName = items.filter(({ name }) => name !== '' && same(name));
  const named =
    byName.length > 0 ? byName : positionsOf(items.filter(({ axis }) => axis.some(same)));
  const candidates = named.some(isValue) ? named.filter(isValue) : named;
  const best = [...candidates].sort((one, other) => rank(one) - rank(other))[0];
  if (!best)
    return { kind: 'not there', positions: positionsOf(items).filter(isValue).map(titleOf) };
  const devices = [...new Set(candidates.map(({ device }) => device))];
  return devices.length > 1 ? { kind: 'several machines', devices } : asLength(best);
}

/** Only lengths are positions here: an angle's number would be taken for millimetres. */
function asLength(item: ItemDescription): FoundItem {
  const { id, type, units } = item;
  // Positions are in millimetres by the standard, also where an old agent leaves the unit out.
  return type === 'POSITION' && (units === 'MILLIMETER' || units === '') && isValue(item)
    ? { kind: 'found', id }
    : { kind: 'no length', type, units, as: otherThanValue(item) };
}

/** A number at a time: no condition, no series or table of numbers, no average or maximum of a time. */
function isValue(item: ItemDescription): boolean {
  return otherThanValue(item) === '';
}

function otherThanValue({ category, representation, statistic }: ItemDescription): string {
  if (category !== 'SAMPLE' && category !== '') return category;
  // VALUE is the schema's default.
  if (representation !== 'VALUE' && representation !== '') return representation;
  return statistic;
}

function positionsOf(items: readonly ItemDescription[]): ItemDescription[] {
  return items.filter(({ type }) => type === 'POSITION');
}

const SUB_TYPES = ['ACTUAL', '', 'COMMANDED', 'PROGRAMMED'];
const SYSTEMS = ['MACHINE', '', 'WORK'];

function rank({ subType, coordinateSystem, compositionId }: ItemDescription): number {
  const placeIn = (order: readonly string[], what: string) =>
    order.includes(what) ? order.indexOf(what) : order.length;
  const ofPart = compositionId === '' ? 0 : 5;
  return 10 * placeIn(SUB_TYPES, subType) + ofPart + placeIn(SYSTEMS, coordinateSystem);
}

function titleOf({ id, name, axis, subType }: ItemDescription): string {
  const of = axis[0] ? ` of ${axis[0]}` : '';
  return `${name || id}${of}${subType ? ` (${subType.toLowerCase()})` : ''}`;
}
