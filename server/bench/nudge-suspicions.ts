import {
  type Fault,
  formatLength,
  type LengthUnit,
  type LinkName,
  MM_PER_INCH,
} from '@taptrue/protocol';

/** A nudge is read to some 5 %; a factor of two is then as sure as anything. */
const DOUBLING_BAND = 0.1;
/** Typed and read travel may differ by this part: both have a last digit. */
const TRAVEL_BAND = 0.1;

/** Radius taken for diameter, or the other way, by the factor of the nudge (true travel per shown). Pure. */
export function doublingSuspected(factor: number, finding: string): Fault | null {
  const isDouble = Math.abs(factor * 2 - 1) < DOUBLING_BAND;
  const isHalf = Math.abs(factor / 2 - 1) < DOUBLING_BAND;
  if (!isDouble && !isHalf) return null;
  return {
    code: 'doubling-suspected',
    what: isDouble
      ? 'The indicator shows twice what it was moved: it seems to be set to diameter.'
      : 'The indicator shows half of what it was moved: it seems to be set to radius, or its stylus is twice as long.',
    got: finding,
    remedy: `Set it to show plain travel, or check the stylus and the distance moved, and nudge again. Until then every amount is ${isDouble ? 'twice' : 'half'} of what it should be; zero stays zero.`,
  };
}

/** Inches taken for millimetres, or the other way: no stylus explains it, so the way stops here. Pure. */
export function unitConfused(factor: number, finding: string): Fault | null {
  const isConfused = [MM_PER_INCH, 1 / MM_PER_INCH].some(
    (ratio) => Math.abs(factor / ratio - 1) < DOUBLING_BAND,
  );
  if (!isConfused) return null;
  return {
    code: 'nudge-unit-confused',
    what: 'What the dial showed is 25.4 times off what the saddle was moved: inches were taken for millimetres, or millimetres for inches. The nudge is not taken.',
    got: finding,
    remedy:
      'Set the unit that the dial shows (typed readings: in the setup; a device: under Devices), check the distance moved, and nudge again.',
  };
}

/** It counts the other way than at the last nudge. Pure. */
export function countingReversed(link: LinkName, finding: string): Fault {
  return {
    code: 'counting-reversed',
    what: `The ${link} counts the other way than at its last nudge.`,
    got: finding,
    remedy:
      link === 'indicator'
        ? 'If it was turned over, touches the other face or had its direction key pressed, all is well: the new way is in use. If not, nudge again.'
        : 'If its direction was changed in its settings, all is well: the new way is in use. If not, nudge again, and mark the ends anew.',
  };
}

/** What the readout's other axis adds to the finding, where it was listened to. Pure. */
export function travelWords(
  saidMm: number | null,
  readMm: number | null,
  unit: LengthUnit,
): string {
  if (readMm === null) return '';
  const read = formatLength(readMm, unit);
  if (saidMm === null)
    return `The readout’s other axis moved by ${read}; that is what was reckoned with.`;
  if (Math.abs(readMm - Math.abs(saidMm)) <= TRAVEL_BAND * Math.abs(saidMm)) return '';
  const isTwice = Math.abs(readMm / (2 * Math.abs(saidMm)) - 1) < TRAVEL_BAND;
  const hint = isTwice ? ' Is that axis set to diameter?' : '';
  return `The readout’s other axis moved by ${read}, not by what was said: check which is right.${hint}`;
}
