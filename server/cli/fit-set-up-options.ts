import { slopeOfTaperPerFoot } from '../set-ups/taper.ts';
import { Refusal } from './command.ts';
import { angleRad, lengthMm, oneOf, sizeMm } from './option-values.ts';

export const SET_UP_HELP = `What is set up (taptrue setups lists them; the result then has its correction):
  --setup NAME             vise-bar, edge, small-slope, bed, square, between-centres, taper, rail or
                           part-on-plate. Of a face seen from above, --rises toward: the reading rises as
                           the face comes up, toward the indicator
  --foot-spacing LENGTH    bed, square: how far apart the feet stand; the shim goes by it
  --from-headstock LENGTH  between-centres: from the headstock centre to the tailstock centre
  --plane side|top         between-centres: the side (default) is set over, the top is only told
  --taper-per-foot LENGTH  taper: on the diameter; minus where the slide is to go away from you to the right
  --half-angle ANGLE       taper: of the slide to the axis, minus as above
  --set-angle ANGLE        part-on-plate: what bar and stack stand at
  --set-uncertainty ANGLE  part-on-plate: standard uncertainty of that, from stack, bar and plate
  --wanted-angle ANGLE     part-on-plate: angle of the print, else the set angle
  --turned FILE            part-on-plate: the sweep with the bar turned end for end under part and stack:
                           takes out unequal rolls and the error of the bar's face
  --stack left|right       part-on-plate: end of the bar that stands on the stack, left where not said`;

export const SET_UP_OPTIONS = {
  setup: { type: 'string' },
  plane: { type: 'string' },
  'foot-spacing': { type: 'string' },
  'from-headstock': { type: 'string' },
  'taper-per-foot': { type: 'string' },
  'half-angle': { type: 'string' },
  'set-angle': { type: 'string' },
  'set-uncertainty': { type: 'string' },
  'wanted-angle': { type: 'string' },
  stack: { type: 'string' },
  turned: { type: 'string' },
} as const;

type Values = Partial<Record<keyof typeof SET_UP_OPTIONS, string>>;

/** What was said beside the line, for the set-up to judge. null: not said. */
export interface SetUpOptions {
  name: string;
  plane: string | null;
  footSpacingMm: number | null;
  fromHeadstockMm: number | null;
  /** From a slope, a taper per foot or an angle. */
  targetSlope: number | null;
  setRad: number | null;
  setStandardRad: number | null;
  wantedRad: number | null;
  stack: 'left' | 'right' | null;
  /** File of the sweep with the bar turned end for end. */
  turnedFile: string | null;
  /** Options of set-ups that were given, by name. */
  given: string[];
}

/** Reads what belongs to a set-up. null: none was named, and nothing of one was said. */
export function readSetUpOptions(values: Values): SetUpOptions | null {
  const given = (Object.keys(SET_UP_OPTIONS) as (keyof Values)[]).filter(
    (name) => name !== 'setup' && values[name] !== undefined,
  );
  if (values.setup === undefined) {
    if (given.length === 0) return null;
    throw new Refusal(`--${given[0]} belongs to a set-up. Say which: --setup NAME.`);
  }
  const perFootMm = lengthMm('taper-per-foot', values['taper-per-foot']);
  const halfRad = angleRad('half-angle', values['half-angle']);
  if (perFootMm !== null && halfRad !== null) {
    throw new Refusal('--taper-per-foot and --half-angle say the same thing. Give one of them.');
  }
  const setStandardRad = angleRad('set-uncertainty', values['set-uncertainty']);
  if (setStandardRad !== null && setStandardRad < 0) {
    throw new Refusal(
      `--set-uncertainty: ${values['set-uncertainty']} is negative; write its size.`,
    );
  }
  return {
    name: values.setup,
    plane: values.plane?.toLowerCase() ?? null,
    footSpacingMm: sizeMm('foot-spacing', values['foot-spacing']),
    fromHeadstockMm: sizeMm('from-headstock', values['from-headstock']),
    targetSlope:
      perFootMm !== null
        ? slopeOfTaperPerFoot(perFootMm)
        : halfRad !== null
          ? Math.tan(halfRad)
          : null,
    setRad: angleRad('set-angle', values['set-angle']),
    setStandardRad,
    wantedRad: angleRad('wanted-angle', values['wanted-angle']),
    stack: oneOf('stack', values.stack, ['left', 'right']),
    turnedFile: values.turned ?? null,
    given,
  };
}
