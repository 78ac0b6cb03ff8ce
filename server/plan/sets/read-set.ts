import {
  type BlockSet,
  BlockSet as BlockSetSchema,
  checkerOf,
  type FaultCode,
  MM_PER_INCH,
} from '@taptrue/protocol';
import { withDecimalPoint } from '../angle/print-notation.ts';
import { mmOfSteps, STEP_TEXT, STEPS_PER_UNIT } from '../exact-length.ts';
import { type Planned, refuse } from '../plan-fault.ts';
import { gradeLimit } from './grades.ts';

const setChecker = checkerOf(BlockSetSchema);

/** A certificate that says more than a thousand times the grade is a slip of the decimal point. */
const MOST_GRADES = 1000;

/** Longest block that is made, steps of either unit come well below 2^31. */
const LONGEST_BLOCK_MM = 1020;

/** An engraved size in whole steps; a reason where it is none. */
export function engravedSteps(size: string, unit: BlockSet['unit']): number | string {
  // No block has a thousand of its unit: a comma can only be the decimal mark.
  const pointed = withDecimalPoint(size.trim(), false);
  if (pointed === null) return 'has more than one decimal mark';
  if (/^\d*\.?\d+\s*(mm|in|"|um)$/i.test(size))
    return `has a unit; sizes of this set are in ${unit} and are written without it`;
  const match = /^(\d{0,4})(?:\.(\d{0,6}))?$/.exec(pointed);
  if (!match || pointed === '' || pointed === '.') return 'is not a size as engraved';
  const millionths = BigInt(`${match[1] || '0'}${(match[2] ?? '').padEnd(6, '0')}`);
  const perStep = 1_000_000n / BigInt(STEPS_PER_UNIT[unit]);
  if (millionths % perStep !== 0n)
    return `is finer than ${STEP_TEXT[unit]}, the finest engraved here`;
  const steps = Number(millionths / perStep);
  if (steps === 0) return 'is nothing';
  if (mmOfSteps(steps, unit) > LONGEST_BLOCK_MM) return 'is longer than any gauge block made';
  return steps;
}

/** Certified length less engraved, micrometres; 0: none given. */
export function deviationUmOf(block: BlockSet['blocks'][number]): number {
  return block.deviationUm ?? ((block.deviationUin ?? 0) * MM_PER_INCH) / 1000;
}

/** A block set from outside, with every block looked at; a fault names the block. */
export function checkSet(value: unknown): Planned<BlockSet> {
  const no = (code: FaultCode, what: string, got: string, remedy: string) =>
    refuse('set', code, what, got, remedy);
  const checked = setChecker.check(value);
  if (!checked.ok) {
    const at = /^\/blocks\/(\d+)/.exec(checked.why)?.[1];
    return no(
      'malformed-set',
      at
        ? `Block number ${Number(at) + 1} of the set cannot be read.`
        : 'The block set cannot be read.',
      checked.why,
      'Give id, title, unit (in or mm), source, fromMemory and blocks, each with its size as text.',
    );
  }
  const set = checked.value;
  const seen = new Map<number, string>();
  for (const block of set.blocks) {
    const steps = engravedSteps(block.size, set.unit);
    if (typeof steps === 'string') {
      return no(
        'malformed-block',
        `Block ${block.size} ${steps}.`,
        `"${block.size}"`,
        'Write it as engraved: 0.1002 in an inch set, 1.005 in a metric one.',
      );
    }
    const twin = seen.get(steps);
    if (twin !== undefined) {
      return no(
        'duplicate-block',
        `Block ${block.size} is listed twice.`,
        `"${twin}" and "${block.size}"`,
        'If there are two of them, list it once with "count": 2.',
      );
    }
    seen.set(steps, block.size);
    if (block.deviationUm !== undefined && block.deviationUin !== undefined) {
      return no(
        'two-deviations',
        `Block ${block.size} has two certified deviations.`,
        `deviationUm ${block.deviationUm}, deviationUin ${block.deviationUin}`,
        'Keep the one on the certificate.',
      );
    }
    const grade = block.grade ?? set.grade ?? '2';
    const mm = mmOfSteps(steps, set.unit);
    const limitUm = gradeLimit(grade, Math.min(mm, 100), set.unit)!.teUm * MOST_GRADES;
    if (Math.abs(deviationUmOf(block)) > limitUm || !Number.isFinite(deviationUmOf(block))) {
      return no(
        'absurd-deviation',
        `The certified deviation of block ${block.size} is more than a thousand times grade ${grade}.`,
        `${block.deviationUm ?? block.deviationUin} ${block.deviationUm === undefined ? 'µin' : 'µm'}`,
        'Check its unit: certificates give micrometres or microinches.',
      );
    }
  }
  return { ok: true, value: set };
}

/** A block set from JSON text. */
export function readSet(text: string): Planned<BlockSet> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return refuse(
      'set',
      'malformed-set',
      'The block set is not JSON.',
      error instanceof Error ? error.message : '',
      'Export a set that ships and edit its copy.',
    );
  }
  return checkSet(value);
}
