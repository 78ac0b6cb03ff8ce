import { type Direction, type End, type Hand, radiansFromArcsec } from '@taptrue/protocol';

export interface DirectionQuestion {
  /** Angle of the jaw from X, seconds of arc, without sign. */
  angleArcsec: number;
  hand: Hand;
  solidJaw: 'rear' | 'front';
  way: 'bar' | 'complement' | 'both rolls' | 'sweep the jaw' | 'jaw straight';
}

const other = (end: End): End => (end === 'right' ? 'left' : 'right');

/**
 * Which roll the stack goes under. Solid jaw at the back, rolls toward it: a stack at the right brings that
 * end of the bar nearer, so the vise turns counter-clockwise and the jaw's right end lies farther away.
 * A solid jaw at the front mirrors this; so does the complement swept along Y.
 */
export function stackEndFor(question: DirectionQuestion): End | null {
  if (question.way === 'sweep the jaw' || question.way === 'jaw straight') return null;
  const away: End = question.hand === 'right-away' ? 'right' : 'left';
  const atRear = question.way === 'complement' ? other(away) : away;
  return question.solidJaw === 'rear' ? atRear : other(atRear);
}

/** Which way everything goes, in numbers and in words. */
export function directionOf(question: DirectionQuestion): Direction {
  const { way, hand } = question;
  if (way === 'jaw straight') {
    const axis = question.angleArcsec === 0 ? 'x' : 'y';
    const sign = axis === 'x' ? 0 : hand === 'right-away' ? 1 : -1;
    return {
      turn: 'none',
      endAway: null,
      stackEnd: null,
      sweepAxis: axis,
      signedJawRad: (sign * Math.PI) / 2,
      sentence: `No bar: sweep the jaw itself and make it straight to ${axis.toUpperCase()}.`,
      steps: [`Sweep the solid jaw along ${axis.toUpperCase()}; tap until it is true.`],
    };
  }
  const sign = hand === 'right-away' ? 1 : -1;
  const turn = sign > 0 ? 'counter-clockwise' : 'clockwise';
  const endAway: End = sign > 0 ? 'right' : 'left';
  const stackEnd = stackEndFor(question);
  const signedJawRad = sign * radiansFromArcsec(question.angleArcsec);
  const sweepAxis = way === 'complement' ? 'y' : 'x';
  const turned = `Turn the vise ${turn} seen from above: the ${endAway} end of the jaw goes away from you.`;
  if (stackEnd === null) {
    return {
      turn,
      endAway,
      stackEnd,
      sweepAxis,
      signedJawRad,
      sentence: `${turned} Sweep the jaw itself to its slope.`,
      steps: [turned, 'Sweep the solid jaw along X and tap to the target slope, not to zero.'],
    };
  }
  const jaw = `the solid jaw at the ${question.solidJaw === 'rear' ? 'back' : 'front'}`;
  const stacked =
    way === 'both rolls'
      ? `Rolls toward ${jaw}; the lower stack under the ${other(stackEnd)} roll, the taller one under the ${stackEnd} roll.`
      : `Rolls toward ${jaw}; the stack under the ${stackEnd} roll.`;
  const swept =
    sweepAxis === 'x'
      ? 'Sweep the working face of the bar along X.'
      : 'Sweep the working face of the bar along Y, table locked in X.';
  return {
    turn,
    endAway,
    stackEnd,
    sweepAxis,
    signedJawRad,
    sentence: `Stack at the ${stackEnd} end. ${turned}`,
    steps: [stacked, turned, swept],
  };
}
