import {
  declaredPivotMm,
  type PivotSection,
  type Setup,
  type Stage,
  type SweepResult,
} from '@taptrue/protocol';
import { malletPlace } from '../measure/verdict/mallet-place.ts';
import { blendPivots, type PivotEstimate, pivotFromTwoLines } from '../measure/verdict/pivot.ts';
import { areApart, broughtLittle, isTurned } from '../measure/verdict/turn-between.ts';
import { endOf, type PivotInUse, type TappedEnd } from './pivot-in-use.ts';
import { elsewhereQuestion, malletWords, pivotSentence, untappedQuestion } from './pivot-words.ts';

/** Evidence kept for the screen; a job of more than twenty turns is beyond help from it. */
const MOST_EVIDENCE = 20;
/**
 * Struck at its other end, a vise on two bolts need not turn about the same place: what one end taught is known
 * there to this, mm (common practice, no source).
 */
const AT_OTHER_END_MM = 10;
/** Clamps that are tightened may shift where it turns, mm (common practice, no source). */
const AT_OTHER_STAGE_MM = 15;

/** Two ended sweeps, one after the other, and what happened between them. */
export interface TurnBetweenSweeps {
  before: { id: number; result: SweepResult; stage: Stage };
  after: { id: number; result: SweepResult; stage: Stage };
  /** null: no tap was noticed. */
  end: TappedEnd | null;
  /** Even if they were put back to the same stage. */
  clampsChanged: boolean;
  /** Why the two do not share one zero; null: they do. */
  zeroMoved: string | null;
}

type Evidence = PivotSection['evidence'][number] & { end: TappedEnd };
/** What is asked of a turn: whether it was tapped at all, or whether the vise turns where the two lines cross. */
type Asks = 'untapped' | 'elsewhere';
interface Row extends Evidence {
  asks: Asks | null;
  /** The user answered for it: it counts against what was declared. */
  isVouchedFor: boolean;
  turn: TurnBetweenSweeps;
}

/** What is known of the pivot: declared, then learned, for the stage it was found at. */
export class PivotLedger {
  #rows: Row[] = [];
  /** Stages and ends at which many blows brought little. */
  #hardlyTurns = new Set<string>();

  forget(): void {
    this.#rows = [];
    this.#hardlyTurns.clear();
  }

  /** Learns from a turn, or notes why it may not, or asks. */
  note(turn: TurnBetweenSweeps, setup: Setup): void {
    const row = this.#judge(turn, setup, false);
    this.#rows.push(row);
    const { before, after, end } = turn;
    const isTried = end !== null && !turn.clampsChanged && before.stage === after.stage;
    if (isTried && broughtLittle(before.result, after.result)) this.#noteLittle(after.stage, end);
    if (this.#rows.length > MOST_EVIDENCE) this.#rows.shift();
  }

  /** Tapped, and hardly turned: once may be a light hand, a second time it is the place. */
  #noteLittle(stage: Stage, end: TappedEnd): void {
    const [, before] = [...this.#rows].reverse();
    const isSecond = before?.stage === stage && before.end === end && before.turn.end === end;
    if (isSecond && broughtLittle(before.turn.before.result, before.turn.after.result))
      this.#hardlyTurns.add(`${stage} ${end}`);
  }

  /** The question that stands; null: none. */
  get asked(): Asks | null {
    return this.#rows.at(-1)?.asks ?? null;
  }

  /**
   * The user's answer to the question that stands. `yes`: it was tapped, or nothing was zeroed or moved.
   * Otherwise nothing is learned from that turn, which is safe.
   */
  answer(yes: boolean, setup: Setup): void {
    const row = this.#rows.at(-1);
    if (!row || row.asks === null) return;
    if (!yes) {
      this.#rows[this.#rows.length - 1] = { ...row, asks: null, why: NOT_VOUCHED_FOR };
      return;
    }
    this.#rows.pop();
    const isVouchedFor = row.asks === 'elsewhere';
    this.#rows.push(this.#judge({ ...row.turn, end: row.end }, setup, isVouchedFor));
  }

  /** Where the lines of two sweeps cross; null: they tell nothing of the pivot. */
  crossingOf(beforeSweep: number, afterSweep: number): PivotEstimate | null {
    const row = this.#rows.findLast(
      (known) => known.beforeSweep === beforeSweep && known.afterSweep === afterSweep,
    );
    if (!row?.used || row.xMm === null || row.uncertaintyMm === null) return null;
    return { xMm: row.xMm, uncertaintyMm: row.uncertaintyMm };
  }

  /** The pivot to reckon with at this stage, and the end to strike: the chosen one, unless the pivot lies there. */
  inUse(setup: Setup, stage: Stage): PivotInUse {
    const chosenMm = setup.malletMm;
    const otherMm = setup.vise.leftEndMm + setup.vise.rightEndMm - chosenMm;
    const chosen = this.#estimate(setup, stage, endOf(chosenMm, setup));
    const other = this.#estimate(setup, stage, endOf(otherMm, setup));
    const mallet = malletPlace({
      chosenMm,
      otherMm,
      pivotMm: { chosen: chosen.xMm, other: other.xMm },
      hardlyTurns: {
        chosen: this.#hardlyTurns.has(`${stage} ${endOf(chosenMm, setup)}`),
        other: this.#hardlyTurns.has(`${stage} ${endOf(otherMm, setup)}`),
      },
      sweptMm: setup.sweptLengthMm,
    });
    return mallet === 'other'
      ? { ...other, malletMm: otherMm, mallet }
      : { ...chosen, malletMm: chosenMm, mallet };
  }

  section(setup: Setup, stage: Stage): PivotSection {
    const inUse = this.inUse(setup, stage);
    const end = endOf(inUse.malletMm, setup);
    return {
      inUse: inUse.source,
      xMm: inUse.xMm,
      uncertaintyMm: inUse.uncertaintyMm,
      declaredMm: declaredPivotMm(setup),
      malletMm: inUse.malletMm,
      sentence: [pivotSentence(inUse, end, setup, stage), malletWords(inUse, setup)]
        .filter((text) => text !== '')
        .join(' '),
      question: this.#question(setup),
      evidence: this.#rows.map(
        ({ asks: _asks, isVouchedFor: _vouched, turn: _turn, ...row }) => row,
      ),
    };
  }

  #question(setup: Setup): PivotSection['question'] {
    const row = this.#rows.at(-1);
    if (!row || row.asks === null) return null;
    return row.asks === 'untapped'
      ? untappedQuestion(row.turn.before.result, row.turn.after.result)
      : elsewhereQuestion(row.xMm!, declaredPivotMm(setup), setup);
  }

  #estimate(
    setup: Setup,
    stage: Stage,
    end: TappedEnd,
  ): PivotEstimate & { source: 'declared' | 'learned' } {
    const declared = { xMm: declaredPivotMm(setup), uncertaintyMm: setup.pivot.uncertaintyMm };
    const here = this.#rows.filter((row) => row.used && row.stage === stage);
    // Vouched for at another stage: it says better where the vise turns than the word that it belied.
    const belying = this.#rows.filter((row) => row.isVouchedFor);
    const rows = here.length > 0 ? here : belying;
    const learned = setup.pivot.learn ? rows.map((row) => seenFrom(row, end, stage)) : [];
    if (learned.length === 0) return { ...declared, source: 'declared' };
    // Where the sweeps say otherwise and were vouched for, what was only declared was wrong.
    const known = belying.length > 0 ? learned : [declared, ...learned];
    return { ...known.reduce(blendPivots), source: 'learned' };
  }

  #judge(turn: TurnBetweenSweeps, setup: Setup, isVouchedFor: boolean): Row {
    const { before, after } = turn;
    const refused: Row = {
      beforeSweep: before.id,
      afterSweep: after.id,
      stage: after.stage,
      end: turn.end ?? endOf(this.inUse(setup, after.stage).malletMm, setup),
      xMm: null,
      uncertaintyMm: null,
      used: false,
      why: '',
      asks: null,
      isVouchedFor: false,
      turn,
    };
    if (turn.clampsChanged || before.stage !== after.stage)
      return { ...refused, why: 'the clamps were changed between the two sweeps' };
    if (turn.zeroMoved) return { ...refused, why: turn.zeroMoved };
    if (turn.end === null) {
      return isTurned(before.result, after.result)
        ? { ...refused, asks: 'untapped', why: 'no tap was noticed between the two sweeps' }
        : { ...refused, why: 'no tap was noticed between the two sweeps, and none shows' };
    }
    const learned = pivotFromTwoLines(before.result, after.result, {
      viseLeftMm: setup.vise.leftEndMm,
      viseRightMm: setup.vise.rightEndMm,
      displayUnit: setup.displayUnit,
    });
    if (!learned.ok) return { ...refused, why: learned.why };
    const found: Row = {
      ...refused,
      xMm: learned.xMm,
      uncertaintyMm: learned.uncertaintyMm,
      used: true,
      why: 'the two lines cross here',
    };
    if (isVouchedFor) return { ...found, isVouchedFor };
    if (!areApart(learned, this.#estimate(setup, after.stage, refused.end))) return found;
    // Two turns apart that show one place are no zeroing: a dial is not zeroed twice by the same amount.
    const alike = this.#rows.filter(
      (row) => row.stage === after.stage && row.why === NOT_VOUCHED_FOR && isAt(row, learned),
    );
    if (alike.length > 0) return { ...found, isVouchedFor: true, why: 'two turns show this place' };
    return { ...found, used: false, asks: 'elsewhere', why: NOT_VOUCHED_FOR };
  }
}

const NOT_VOUCHED_FOR = 'it disagrees with what was known, and nobody vouched for it';

function isAt({ xMm, uncertaintyMm }: Row, place: PivotEstimate): boolean {
  return xMm !== null && uncertaintyMm !== null && !areApart({ xMm, uncertaintyMm }, place);
}

/** What a turn taught, for a mallet at this end and clamps at this stage. */
function seenFrom(row: Row, end: TappedEnd, stage: Stage): PivotEstimate {
  const byEndMm = row.end === end ? 0 : AT_OTHER_END_MM;
  const byStageMm = row.stage === stage ? 0 : AT_OTHER_STAGE_MM;
  return { xMm: row.xMm!, uncertaintyMm: Math.hypot(row.uncertaintyMm!, byEndMm, byStageMm) };
}
