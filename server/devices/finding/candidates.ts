import type { LengthUnit, LineShape, LinkConfig } from '@taptrue/protocol';
import { readsAlike, worthOf } from './judge-hearing.ts';
import type { Evidence, HeardReading } from './shape-hearing.ts';

/** How the device was seen to send. */
export type SeenTrigger =
  | { trigger: 'streams' }
  | { trigger: 'its own key' }
  | { trigger: 'asked'; request: string };

/** One way to read the device, to be held against its screen. */
export interface Candidate {
  shape: LineShape;
  /** The shape is in no table yet: a known one with another trigger. */
  shapeIsNew: boolean;
  unit: LinkConfig['unit'];
  channel: string | null;
  sample: HeardReading;
}

/** A shape that is sent otherwise than was seen must say this much more to be asked about first. */
const SENT_OTHERWISE = 0.8;
/** A shape that says this little less than the best is still asked about. */
const NEARLY_AS_GOOD = 0.9;
const MOST_CANDIDATES = 12;
/** Ten a second: three to ten is what such devices manage. */
const ASKED_EVERY_MS = 100;

/**
 * From what was recognised to the questions, likeliest first: shapes by what they say, each channel in the
 * order heard; where the line carries no unit the likelier one first, for all of them, then the other. Pure.
 */
export function candidatesOf(
  heard: readonly Evidence[],
  seen: SeenTrigger,
  table: readonly LineShape[],
): Candidate[] {
  const best = heard[0];
  if (best === undefined) return [];
  const weighed = heard
    .filter(({ eighth }) => eighth === best.eighth)
    .map((evidence) => ({ ...evidence, worth: worthSeen(evidence, seen, table) }))
    .sort((one, other) => other.worth - one.worth);
  const good = weighed.filter(({ worth }) => worth >= weighed[0]!.worth * NEARLY_AS_GOOD);
  const distinct = good.filter(
    ({ shape }, index) => good.findIndex((earlier) => readsAlike(earlier.shape, shape)) === index,
  );
  const ranked = distinct.flatMap(({ shape, latest }) => {
    const triggered = withTrigger(shape, seen, table);
    return latest.flatMap((sample) =>
      unitsFor(sample).map((unit, rank) => ({
        rank,
        candidate: { ...triggered, unit, channel: sample.channel, sample },
      })),
    );
  });
  const inOrder = ranked
    .sort((one, other) => one.rank - other.rank)
    .map(({ candidate }) => candidate);
  // Two that show the same on the screen are one question.
  return inOrder
    .filter((candidate, index) => {
      const shown = shownAs(candidate);
      return inOrder.findIndex((earlier) => shownAs(earlier) === shown) === index;
    })
    .slice(0, MOST_CANDIDATES);
}

function shownAs({ unit, channel, sample }: Candidate): string {
  return JSON.stringify([sample.value, sample.decimals, unit, channel]);
}

function worthSeen(evidence: Evidence, seen: SeenTrigger, table: readonly LineShape[]): number {
  const { shapeIsNew } = withTrigger(evidence.shape, seen, table);
  return worthOf(evidence) * (shapeIsNew ? SENT_OTHERWISE : 1);
}

/** The unit sent, else both. Four decimals and more are inches on most displays, fewer millimetres (common practice, no source). */
function unitsFor(sample: HeardReading): LinkConfig['unit'][] {
  if (sample.unit !== null) return ['as sent'];
  const likelier: LengthUnit = sample.decimals >= 4 ? 'in' : 'mm';
  return [likelier, likelier === 'in' ? 'mm' : 'in'];
}

/** The shape of the table that reads the same lines and is sent so; else this one, changed to be. */
function withTrigger(
  shape: LineShape,
  seen: SeenTrigger,
  table: readonly LineShape[],
): { shape: LineShape; shapeIsNew: boolean } {
  const fits = (known: LineShape) =>
    known.trigger === seen.trigger &&
    (seen.trigger !== 'asked' || known.request?.text === seen.request);
  if (fits(shape)) return { shape, shapeIsNew: false };
  const known = table.find((other) => fits(other) && readsAlike(other, shape));
  if (known) return { shape: known, shapeIsNew: false };
  const request = seen.trigger === 'asked' ? { text: seen.request, everyMs: ASKED_EVERY_MS } : null;
  const how = NAME_OF_TRIGGER[seen.trigger];
  return {
    shape: {
      ...shape,
      name: freeName(shape.name, how, table),
      title: `${shape.title}; ${TITLE_OF_TRIGGER[seen.trigger]}`.slice(0, 80),
      trigger: seen.trigger,
      request,
    },
    shapeIsNew: true,
  };
}

const NAME_OF_TRIGGER = { streams: 'streamed', 'its own key': 'by-key', asked: 'asked' } as const;
const TITLE_OF_TRIGGER = {
  streams: 'sent by itself',
  'its own key': 'at its key',
  asked: 'asked for',
} as const;
/** Names of shapes have at most forty characters. */
const LONGEST_NAME = 40;

function freeName(stem: string, how: string, table: readonly LineShape[]): string {
  const ended = stem.endsWith(`-${how}`) ? '' : `-${how}`;
  for (let number = 1; ; number += 1) {
    const ending = number === 1 ? ended : `${ended}-${number}`;
    const name = `${stem.slice(0, LONGEST_NAME - ending.length)}${ending}`;
    if (!table.some((shape) => shape.name === name)) return name;
  }
}
