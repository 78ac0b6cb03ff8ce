import type { Caution, PlanAnswer, PlanQuestion } from '@taptrue/protocol';
import { dmsText } from './angle/echo-angle.ts';
import { looksLikeMinutes } from './angle/read-angle.ts';
import { type ReadQuestion, SHALLOW_ARCSEC, STEEP_ARCSEC, STEEPEST_SLOPE } from './plan-parts.ts';
import type { PlannedStacks } from './stack/plan-stacks.ts';

/** Choices the user has not made yet. */
export function offersOf(
  question: PlanQuestion,
  read: ReadQuestion,
  stacks: PlannedStacks | null,
): PlanAnswer['offers'] {
  const offers: PlanAnswer['offers'] = [];
  const { decisions } = question;
  if (
    read.angleArcsec > STEEP_ARCSEC &&
    read.angleArcsec < 2 * STEEP_ARCSEC &&
    decisions.steep === null
  ) {
    offers.push(
      {
        decision: 'steep',
        choice: 'complement',
        text: `Set the complement, ${dmsText(2 * STEEP_ARCSEC - read.angleArcsec)}, with the stack at the other end, and sweep along Y. The squareness of X and Y then enters the error.`,
      },
      {
        decision: 'steep',
        choice: 'as written',
        text: 'Set it as written and sweep along X. Bar length and stack then weigh more with every degree.',
      },
    );
  }
  if (read.angleArcsec > 0 && read.angleArcsec <= SHALLOW_ARCSEC && decisions.shallow === null) {
    offers.push({
      decision: 'shallow',
      choice: 'both rolls',
      text: 'Blocks under both rolls: only their difference counts, so a height thinner than any block can be had.',
    });
    if (Math.tan((read.angleArcsec / 648_000) * Math.PI) <= STEEPEST_SLOPE) {
      offers.push({
        decision: 'shallow',
        choice: 'sweep the jaw',
        text: 'No bar: sweep the jaw itself to its slope. The whole rise must fit the range of the indicator.',
      });
    }
  }
  if (stacks && stacks.stack === null) {
    for (const side of ['below', 'above'] as const) {
      const near = stacks[side];
      if (near === null) continue;
      const angle =
        near.angleDeg === null
          ? 'higher than the bar is long'
          : `${dmsText(near.angleDeg * 3600)}, off by ${dmsText(Math.abs(near.angleErrorArcsec ?? 0))}`;
      offers.push({
        decision: 'nearest',
        choice: side,
        text: `${near.sumText} ${read.shelf!.set.unit} from ${near.blocks.join(' + ')}: ${angle}.`,
      });
    }
  }
  return offers;
}

/** What the user must know of this plan before building it. */
export function cautionsOf(
  question: PlanQuestion,
  read: ReadQuestion,
  stacks: PlannedStacks | null,
  limitArcsec: number | null,
  jawSentence: string | null,
): Caution[] {
  const cautions: Caution[] = [];
  const add = (code: string, text: string) => cautions.push({ code, text });
  if (looksLikeMinutes(question.angle.text))
    add(
      'decimal-degrees',
      `${question.angle.text.trim()} is ${read.written.dmsText}. If the print says degrees and minutes, write it with min.`,
    );
  if (question.referenceLine.trim() === '')
    add('reference-line-missing', 'Note which edge of the print the angle is measured from.');
  if (jawSentence !== null) add('bar-does-not-fit', jawSentence);
  if (read.bar && question.bar?.lengthIs === 'nominal')
    add('bar-nominal', 'The length of the bar is nominal. A known length, however odd, is better.');
  const set = read.shelf?.set;
  if (set?.fromMemory)
    add(
      'set-from-memory',
      `No document was seen that lists ${set.title}. Compare it with the case before you rely on it.`,
    );
  if (read.bar && set && read.bar.length.unit !== set.unit)
    add(
      'inch-and-metric-mixed',
      'Bar and blocks are of different units. That can be done, and it is where slips happen: re-add the stack.',
    );
  if (read.way === 'complement')
    add(
      'squareness-enters',
      'Swept along Y: the squareness of X and Y enters the angle in full, 0.0005 in in 12 in is 8.6″.',
    );
  if (read.way === 'both rolls' && question.wear !== null)
    add(
      'wear-pair-left-out',
      'With blocks under both rolls the wear pair is left out: only the difference of the two stacks counts.',
    );
  if (read.way === 'sweep the jaw')
    add(
      'indicator-range',
      `The reading changes by ${(Math.tan((read.angleArcsec / 648_000) * Math.PI) * read.sweptMm).toFixed(3)} mm over the sweep. The indicator needs that range, and its scale then counts in full.`,
    );
  const error = stacks?.errorArcsec ?? null;
  if (error !== null && limitArcsec !== null && Math.abs(error) > limitArcsec) {
    add(
      'stack-off-by-more-than-limit',
      `The stack alone is off by ${dmsText(Math.abs(error))}, more than the set-up may take.`,
    );
  }
  if (stacks?.stack)
    add(
      'null-proves-nothing',
      'The sweep cannot see a wrong stack. Have someone else add the blocks.',
    );
  return cautions;
}
