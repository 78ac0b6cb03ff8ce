import { ALONG_THE_JAW, type MeasuredFrom } from '@taptrue/protocol';
import { Refusal } from './command.ts';

export const FROM_WORDS = `  --from LINE           the line the angle is measured from, as the work lies in the vise: along-jaw
                        (default), square-to-jaw, centreline, square-centreline, or edge with
                        --edge-angle ANGLE (of that edge from the jaw) and --cut beyond|short|across`;

export const FROM_OPTIONS = {
  from: { type: 'string' },
  'edge-angle': { type: 'string' },
  cut: { type: 'string' },
} as const;

const PLAIN_LINES: Readonly<Record<string, MeasuredFrom>> = {
  'along-jaw': ALONG_THE_JAW,
  'square-to-jaw': { line: 'square to the jaw' },
  centreline: { line: 'centreline along the jaw' },
  'square-centreline': { line: 'centreline square to the jaw' },
};

const CUTS = {
  beyond: 'beyond the edge',
  short: 'short of the edge',
  across: 'across the jaw line',
} as const;

/** `--from` with what belongs to it; what belongs to another line is refused. */
export function measuredFromOptions(values: {
  from?: string | undefined;
  'edge-angle'?: string | undefined;
  cut?: string | undefined;
}): MeasuredFrom {
  const { from = 'along-jaw', cut, 'edge-angle': edgeAngle } = values;
  if (from !== 'edge') {
    const plain = PLAIN_LINES[from];
    if (plain === undefined)
      throw new Refusal(
        `--from: "${from}" is not known here. Write ${Object.keys(PLAIN_LINES).join(', ')} or edge.`,
      );
    if (cut !== undefined || edgeAngle !== undefined)
      throw new Refusal(
        '--edge-angle and --cut belong to --from edge. Write it, or leave them out.',
      );
    return plain;
  }
  if (edgeAngle === undefined)
    throw new Refusal(
      '--edge-angle is missing. Give the angle of that edge from the jaw, such as --edge-angle 5deg.',
    );
  if (cut === undefined || !(cut in CUTS))
    throw new Refusal(
      `--cut: ${cut === undefined ? 'it is missing' : `"${cut}" is not known here`}. Write beyond (the cut leans farther than the edge), short (between the edge and the jaw's line) or across (on the other side of the jaw's line).`,
    );
  return { line: 'another edge', edgeAngle, cut: CUTS[cut as keyof typeof CUTS] };
}
