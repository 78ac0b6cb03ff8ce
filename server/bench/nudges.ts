import {
  type Fault,
  formatLength,
  type LengthUnit,
  MM_PER_INCH,
  type Rises,
  type Setup,
} from '@taptrue/protocol';

/** A nudge must show at least this part of the move, or the stylus was not touching (common practice, no source). */
const LEAST_SHOWN_PART = 0.1;
/** Within a tenth of 1 the indicator counts as reading true: a 0.005 in jog by a 0.001 in dial is no better. */
const TRUE_BAND = 0.1;

export type YNudgeFinding = {
  rises: Rises;
  /** True travel per shown travel. */
  factor: number;
  finding: string;
};

function near(ratio: number, expected: number): boolean {
  return Math.abs(ratio / expected - 1) < TRUE_BAND;
}

function scaleWords(shownPerTrue: number): string {
  if (near(shownPerTrue, 1)) return 'It reads true travel.';
  if (near(shownPerTrue, MM_PER_INCH)) {
    return 'It shows 25.4 times the travel: it sends millimetres that are taken as inches. Set its unit to mm under Devices.';
  }
  if (near(shownPerTrue, 1 / MM_PER_INCH)) {
    return 'It shows 1/25.4 of the travel: it sends inches that are taken as millimetres. Set its unit to in under Devices.';
  }
  if (near(shownPerTrue, 2)) {
    return 'It shows twice the travel: it may be set to diameter, or carry a stylus of half length.';
  }
  if (near(shownPerTrue, 0.5)) {
    return 'It shows half the travel: it may be set to radius, or carry a stylus of double length.';
  }
  const percent = Math.round(shownPerTrue * 100);
  return `It shows ${percent} % of the travel: stylus at an angle or of another length, or the jog was not what was typed. Zero stays zero; amounts are off by that much until a factor or angle is set.`;
}

/**
 * What a Y nudge says. `movedMm` is how far the surface went toward the column (the saddle was moved away
 * from the operator), or, where Y is swept, to the operator's left; backlash taken up first; readings in mm as shown.
 */
export function judgeYNudge(
  beforeMm: number,
  afterMm: number,
  movedMm: number,
  unit: LengthUnit,
  axis: Setup['axis'] = 'x',
): { ok: true; nudge: YNudgeFinding } | { ok: false; fault: Fault } {
  const shownMm = afterMm - beforeMm;
  const got = `moved ${formatLength(movedMm, unit)}, shown ${formatLength(shownMm, unit, { plus: true })}`;
  if (movedMm === 0 || !Number.isFinite(movedMm)) {
    return {
      ok: false,
      fault: {
        code: 'nudge-no-move',
        what: 'The saddle nudge needs the distance the saddle was moved.',
        got,
        remedy: 'Move the saddle a known amount, 0.005 in or 0.1 mm, and give that amount.',
      },
    };
  }
  const shownPerTrue = Math.abs(shownMm / movedMm);
  // 1/25.4 = 0.039 lies below the least part and must still be recognised as inches taken for millimetres.
  if (shownPerTrue < LEAST_SHOWN_PART && !near(shownPerTrue, 1 / MM_PER_INCH)) {
    return {
      ok: false,
      fault: {
        code: 'nudge-not-seen',
        what: 'The indicator did not follow the saddle nudge.',
        got,
        remedy:
          'Check that the stylus touches with some preload, that the indicator is not on hold, and that backlash was taken up before the first reading. Then nudge again.',
      },
    };
  }
  const rises: Rises = shownMm * movedMm > 0 ? 'away' : 'toward';
  const senseWords =
    rises === 'toward'
      ? `The reading rises as the surface ${axis === 'x' ? 'comes toward you' : 'goes to your right'}.`
      : `The reading rises as the surface goes ${axis === 'x' ? 'away from you' : 'to your left'}.`;
  return {
    ok: true,
    nudge: {
      rises,
      factor: 1 / shownPerTrue,
      finding: `${senseWords} ${scaleWords(shownPerTrue)}`,
    },
  };
}

/**
 * What an X nudge says: the table was moved to the operator's right, so the stylus stands nearer the left
 * end of the work and x has fallen.
 */
export function judgeXNudge(
  beforeMm: number,
  afterMm: number,
  unit: LengthUnit,
): { ok: true; counts: 1 | -1; finding: string } | { ok: false; fault: Fault } {
  const changeMm = afterMm - beforeMm;
  /** Less than this is a jitter of the last digit, not a move of the table. */
  const leastMoveMm = 0.1;
  if (Math.abs(changeMm) < leastMoveMm) {
    return {
      ok: false,
      fault: {
        code: 'nudge-not-seen',
        what: 'The readout did not follow the table nudge.',
        got: `count changed by ${formatLength(changeMm, unit, { plus: true })}`,
        remedy: `Move the table to the right by ${formatLength(2, unit, { decimals: unit === 'in' ? 2 : 0 })} or more, and check that the readout link is live and on the X axis.`,
      },
    };
  }
  const counts = changeMm > 0 ? -1 : 1;
  return {
    ok: true,
    counts,
    finding:
      counts === 1
        ? 'The count rises as the stylus goes right along the work.'
        : 'The count falls as the stylus goes right along the work; positions are turned round.',
  };
}
