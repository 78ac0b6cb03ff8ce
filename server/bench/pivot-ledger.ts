import {
  declaredPivotMm,
  formatLength,
  type PivotSection,
  type Setup,
  type Stage,
} from '@taptrue/protocol';
import {
  blendPivots,
  type PivotEstimate,
  type PivotEvidence,
  pivotFromTwoLines,
} from '../measure/verdict/pivot.ts';

/** Evidence kept for the screen; a job of more than twenty turns is beyond help from it. */
const MOST_EVIDENCE = 20;

export type TappedEnd = 'left' | 'right';

/** The end of the vise at which a mallet at this place strikes, seen from the middle of the vise. */
export function endOf(malletMm: number, setup: Setup): TappedEnd {
  return malletMm >= (setup.vise.leftEndMm + setup.vise.rightEndMm) / 2 ? 'right' : 'left';
}

/** The coarser of two last digits, mm: two lines cross no surer than the coarser was read. */
export function coarserOf(oneMm: number | null, otherMm: number | null): number | null {
  return oneMm === null || otherMm === null ? (oneMm ?? otherMm) : Math.max(oneMm, otherMm);
}

/** Two ended sweeps, one after the other, and what happened between them. */
export interface TurnBetweenSweeps {
  before: { id: number; evidence: PivotEvidence; stage: Stage };
  after: { id: number; evidence: PivotEvidence; stage: Stage };
  end: TappedEnd;
  /** Even if they were put back to the same stage. */
  clampsChanged: boolean;
  /** Why the two do not share one zero; null: they do. */
  zeroMoved: string | null;
}

type Row = PivotSection['evidence'][number] & { end: TappedEnd };

/** What is known of the pivot: declared, then learned, each for the stage and the end it was found at. */
export class PivotLedger {
  #rows: Row[] = [];

  forget(): void {
    this.#rows = [];
  }

  /** Learns from a turn, or notes why it may not. */
  note(turn: TurnBetweenSweeps, setup: Setup, digitMm: number | null): void {
    const row = {
      beforeSweep: turn.before.id,
      afterSweep: turn.after.id,
      stage: turn.after.stage,
      end: turn.end,
    };
    const refuse = (why: string): Row => ({
      ...row,
      xMm: null,
      uncertaintyMm: null,
      used: false,
      why,
    });
    this.#rows.push(this.#judge(turn, setup, digitMm, row, refuse));
    if (this.#rows.length > MOST_EVIDENCE) this.#rows.shift();
  }

  /** Where the lines of two sweeps cross; null: they tell nothing of the pivot. */
  crossingOf(beforeSweep: number, afterSweep: number): PivotEstimate | null {
    const row = this.#rows.findLast(
      (known) => known.beforeSweep === beforeSweep && known.afterSweep === afterSweep,
    );
    if (!row?.used || row.xMm === null || row.uncertaintyMm === null) return null;
    return { xMm: row.xMm, uncertaintyMm: row.uncertaintyMm };
  }

  /** The pivot to reckon with at this stage for a mallet at the setup's place. */
  inUse(setup: Setup, stage: Stage): PivotEstimate & { source: 'declared' | 'learned' } {
    const declared = {
      xMm: declaredPivotMm(setup),
      uncertaintyMm: setup.pivot.uncertaintyMm,
    };
    if (!setup.pivot.learn) return { ...declared, source: 'declared' };
    const end = endOf(setup.malletMm, setup);
    const learned = this.#rows.filter((row) => row.used && row.stage === stage && row.end === end);
    if (learned.length === 0) return { ...declared, source: 'declared' };
    const estimate = learned.reduce<PivotEstimate>(
      (known, row) => blendPivots(known, { xMm: row.xMm!, uncertaintyMm: row.uncertaintyMm! }),
      declared,
    );
    return { ...estimate, source: 'learned' };
  }

  section(setup: Setup, stage: Stage): PivotSection {
    const inUse = this.inUse(setup, stage);
    const unit = setup.displayUnit;
    const decimals = unit === 'in' ? 2 : 0;
    const beside = inUse.xMm < 0 ? 'outside' : 'from';
    const place = `${formatLength(Math.abs(inUse.xMm), unit, { decimals })} ${beside} the ${setup.axis === 'x' ? 'left' : 'near'} end`;
    const within = `± ${formatLength(inUse.uncertaintyMm, unit, { decimals: decimals + 1 })}`;
    const sentence =
      inUse.source === 'declared'
        ? `Pivot as declared: ${setup.pivot.choice === 'typed' ? 'typed' : `the ${setup.pivot.choice}`}, ${place}, ${within}.`
        : `Pivot learned from the sweeps at ${stage}, tapping the ${endOf(setup.malletMm, setup)} end: ${place}, ${within}.`;
    return {
      inUse: inUse.source,
      xMm: inUse.xMm,
      uncertaintyMm: inUse.uncertaintyMm,
      declaredMm: declaredPivotMm(setup),
      sentence,
      evidence: this.#rows.map((row) => ({ ...row })),
    };
  }

  #judge(
    turn: TurnBetweenSweeps,
    setup: Setup,
    digitMm: number | null,
    row: Pick<Row, 'beforeSweep' | 'afterSweep' | 'stage' | 'end'>,
    refuse: (why: string) => Row,
  ): Row {
    if (turn.clampsChanged || turn.before.stage !== turn.after.stage)
      return refuse('the clamps were changed between the two sweeps');
    if (turn.zeroMoved) return refuse(turn.zeroMoved);
    const learned = pivotFromTwoLines(turn.before.evidence, turn.after.evidence, {
      viseLeftMm: setup.vise.leftEndMm,
      viseRightMm: setup.vise.rightEndMm,
      resolutionMm: setup.indicator.resolutionMm ?? digitMm,
      displayUnit: setup.displayUnit,
    });
    if (!learned.ok) return refuse(learned.why);
    return {
      ...row,
      xMm: learned.xMm,
      uncertaintyMm: learned.uncertaintyMm,
      used: true,
      why: 'the two lines cross here',
    };
  }
}
