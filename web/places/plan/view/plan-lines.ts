import type { AngleKind, MeasuredFrom, PlanQuestion } from '@taptrue/protocol';
import { ALONG_THE_JAW } from '@taptrue/protocol';
import type { LineChoice } from '@taptrue/protocol/picture';

type Line = MeasuredFrom['line'];
type Cut = Extract<MeasuredFrom, { line: 'another edge' }>['cut'];

/** The lines an angle may be measured from: the picture for each, the words, and what is then set. */
export const LINES: readonly { line: Line; picture: LineChoice; words: string; sets: string }[] = [
  {
    line: 'along the jaw',
    picture: 'along the jaw',
    words: 'the edge along the jaw',
    sets: 'set as written',
  },
  {
    line: 'square to the jaw',
    picture: 'square to the jaw',
    words: 'the edge square to the jaw',
    sets: '90° less it is set',
  },
  {
    line: 'centreline along the jaw',
    picture: 'centreline along the jaw',
    words: 'side to side, centreline along the jaw',
    sets: 'half is set',
  },
  {
    line: 'centreline square to the jaw',
    picture: 'centreline square to the jaw',
    words: 'side to side, centreline square to the jaw',
    sets: '90° less half is set',
  },
  {
    line: 'another edge',
    picture: 'beyond the edge',
    words: 'another edge, its own angle known',
    sets: 'added or taken off',
  },
];

export const CUTS: readonly { cut: Cut; words: string; sets: string }[] = [
  { cut: 'beyond the edge', words: 'the cut leans farther than the edge', sets: 'both are added' },
  {
    cut: 'short of the edge',
    words: 'the cut leans less than the edge',
    sets: 'the edge’s less the print’s',
  },
  {
    cut: 'across the jaw line',
    words: 'the edge leans the other way',
    sets: 'the print’s less the edge’s',
  },
];

/** Jobs of old said by the way of writing that half is set; the picture says it now. */
const HALVED: Readonly<Partial<Record<AngleKind, AngleKind>>> = {
  'included angle': 'angle',
  'taper half': 'taper included',
};

export function plainKind(kind: AngleKind): AngleKind {
  return HALVED[kind] ?? kind;
}

/** The line whose picture stands chosen. */
export function chosenLine({ angle, measuredFrom = ALONG_THE_JAW }: PlanQuestion): Line {
  if (HALVED[angle.kind] === undefined) return measuredFrom.line;
  if (measuredFrom.line === 'along the jaw') return 'centreline along the jaw';
  if (measuredFrom.line === 'square to the jaw') return 'centreline square to the jaw';
  return measuredFrom.line;
}

/** What choosing a line writes; an edge typed before is kept. */
export function fromLine({ measuredFrom }: PlanQuestion, line: Line): MeasuredFrom {
  if (line !== 'another edge') return { line };
  return measuredFrom?.line === 'another edge'
    ? measuredFrom
    : { line, edgeAngle: '', cut: 'beyond the edge' };
}
