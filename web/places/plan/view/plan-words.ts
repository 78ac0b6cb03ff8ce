import type {
  AngleKind,
  BlockGrade,
  LengthUnit,
  PlanQuestion,
  PlanSection,
} from '@taptrue/protocol';

/** How an angle is written on a print, with what to type for it. Whether half is set, its line says. */
export const ANGLE_KINDS: readonly { value: AngleKind; label: string; example: string }[] = [
  { value: 'angle', label: 'angle', example: '7deg30min, 7°30′ or 7.5deg' },
  { value: 'taper included', label: 'taper', example: '1.5in/ft, 50mm/m or 1:20' },
  { value: 'rise over run', label: 'rise over run', example: '1in/12in or 25mm/100mm' },
];

export function exampleOf(kind: AngleKind): string {
  return ANGLE_KINDS.find(({ value }) => value === kind)!.example;
}

export const GRADES: readonly BlockGrade[] = ['K', '00', '0', '1', '2', 'AS-1', 'AS-2'];

export const COMMON_BARS = ['5in', '10in', '100mm', '200mm'] as const;

/** `5in` and `5 in` are one bar. */
export function commonBarOf(length: string): (typeof COMMON_BARS)[number] | null {
  const plain = length.replaceAll(' ', '').toLowerCase();
  return COMMON_BARS.find((common) => common === plain) ?? null;
}

export const COMMON_SHARES = [
  { value: 0.25, label: 'a quarter' },
  { value: 0.2, label: 'a fifth' },
  { value: 0.1, label: 'a tenth' },
] as const;

export type PlanStanding = 'empty' | 'refused' | 'to decide' | 'not built' | 'wrong' | 'built';

/** Where the plan stands, the word for it, and what to do next; `why`: why there is no going on, or empty. */
export function planStanding(plan: PlanSection): {
  standing: PlanStanding;
  word: string;
  why: string;
} {
  const { answer, refusal, takenCheck, takenLowCheck, built } = plan;
  if (answer === null) {
    return refusal === null
      ? { standing: 'empty', word: 'no angle yet', why: 'Type the angle that the print gives.' }
      : {
          standing: 'refused',
          word: 'to be settled',
          why: `${refusal.fault.what} ${refusal.fault.remedy}`,
        };
  }
  if (built) {
    return answer.stack === null
      ? { standing: 'built', word: 'no stack needed', why: '' }
      : { standing: 'built', word: 'built', why: '' };
  }
  if (answer.stack === null) {
    return {
      standing: 'to decide',
      word: 'cannot be built',
      why: 'This height cannot be made from the set. Choose one beside it, or another set.',
    };
  }
  const wrong = [takenCheck, takenLowCheck].find((check) => check?.adds === false);
  if (wrong) return { standing: 'wrong', word: 'wrong stack', why: wrong.sentence };
  return {
    standing: 'not built',
    word: 'not built',
    why: 'Have someone else key the blocks actually taken.',
  };
}

/** A question that was answered by a choice, in words, so that it can be taken back. */
export function decisionsMade(
  question: PlanQuestion,
): { decision: keyof PlanQuestion['decisions']; says: string }[] {
  const { steep, shallow, nearest } = question.decisions;
  const made: { decision: keyof PlanQuestion['decisions']; says: string }[] = [];
  if (steep !== null)
    made.push({
      decision: 'steep',
      says: steep === 'complement' ? 'The complement is set, swept along Y.' : 'Set as written.',
    });
  if (shallow !== null) made.push({ decision: 'shallow', says: SHALLOW_WORDS[shallow] });
  if (nearest !== null)
    made.push({ decision: 'nearest', says: `The nearest height ${nearest} is taken.` });
  return made;
}

const SHALLOW_WORDS = {
  'one stack': 'One stack under one roll.',
  'both rolls': 'Blocks under both rolls.',
  'sweep the jaw': 'No bar: the jaw itself is swept to its slope.',
} as const;

export const NO_DECISIONS: PlanQuestion['decisions'] = {
  steep: null,
  shallow: null,
  nearest: null,
};

/** The one number of the plan: what is wrung together, or the angle where nothing is. */
export function planNumber(
  plan: PlanSection,
  setUnit: LengthUnit | null,
): { label: string; text: string; unit: string } | null {
  const { answer } = plan;
  if (answer === null) return null;
  if (answer.stack !== null) {
    const end = answer.direction.stackEnd;
    return {
      label: end === null ? 'height of the stack' : `stack under the ${end} roll`,
      text: answer.stack.sumText,
      unit: answer.stack.unit,
    };
  }
  return answer.targetText === null
    ? { label: 'angle of the jaw', text: answer.angle.degText, unit: '' }
    : { label: 'height wanted', text: answer.targetText, unit: setUnit ?? '' };
}

/** What was typed into the re-add, block by block: spaces, plus signs and line ends part them. */
export function blocksOf(text: string): string[] {
  return text.split(/[\s+;]+/).filter((block) => block !== '');
}

/** Figures of one column under each other: the shorter are filled with spaces as wide as a figure. */
export function columnOf(texts: readonly string[]): string[] {
  const decimals = (text: string) => (text.includes('.') ? text.length - text.indexOf('.') - 1 : 0);
  const most = Math.max(0, ...texts.map(decimals));
  return texts.map((text) => text + '\u2007'.repeat(most - decimals(text)));
}

/** Id of a new set of the shop's own, free among those there are. */
export function ownSetId(from: string, taken: readonly string[]): string {
  const base = `${from.replace(/-own(-\d+)?$/, '').slice(0, 30)}-own`;
  let id = base;
  for (let number = 2; taken.includes(id); number += 1) id = `${base}-${number}`;
  return id;
}

/** Name under which an exported job lies on the disk. */
export function jobFileName(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `${plain || 'job'}.json`;
}

/** The hand of a kept job, as it is said in the shop. */
export function handWord(hand: string): string {
  return hand === 'left-away' ? 'left end away' : 'right end away';
}
