import {
  type Answer,
  type Command,
  type Fault,
  MOST_SET_UP_POINTS,
  MOST_SET_UPS_KEPT,
  parseAngleRad,
  parseLengthMm,
  parseNumber,
  type SetUpKept,
  type SetUpPoint,
  toMm,
} from '@taptrue/protocol';
import { judgeSetUp } from '../set-ups/judge-set-up.ts';
import type { SetUp } from '../set-ups/set-up.ts';
import { asksOf, briefOf, isTurned, readTold } from '../set-ups/told.ts';
import { DONE, done, refused } from '../state/answers.ts';
import type { DeskContext } from './desk.ts';
import { Measuring } from './measuring.ts';
import {
  noPartToAimBy,
  noSetUpChosen,
  noSweepForSetUp,
  nothingToKeep,
  placeNotRead,
  setUpFull,
  setUpNotKnown,
} from './set-up-refusals.ts';

interface Draft {
  row: SetUp;
  plane: string;
  axis: 'x' | 'y';
  told: Record<string, string>;
  points: SetUpPoint[];
  turned: boolean;
  isKept: boolean;
  isAimedBy: boolean;
}

/** Another thing made true in the same job: chosen, read, judged and kept in its own words. */
export class SetUpDesk {
  readonly #context: DeskContext;
  readonly #device: Measuring;
  /** Its typing is not held against that of a sweep. */
  #typing: Measuring;
  readonly #rows: readonly SetUp[];
  /** One of each set-up, so that going to another and back loses nothing. */
  readonly #drafts = new Map<string, Draft>();
  #chosen: Draft | null = null;
  readonly #kept: SetUpKept[] = [];
  #keptCount = 0;

  constructor(context: DeskContext, device: Measuring, rows: readonly SetUp[]) {
    this.#context = context;
    this.#device = device;
    this.#typing = this.#freshTyping();
    this.#rows = rows;
    this.#tell();
  }

  /** null: not a command of a set-up. */
  command(command: Command, nowMs: number): Answer | null {
    switch (command.kind) {
      case 'choose set-up':
        return this.#choose(command);
      case 'leave set-up':
        this.#chosen = null;
        return this.#told(DONE);
      case 'tell set-up':
        return this.#withDraft((draft) => this.#tellDraft(draft, command.ask, command.text));
      case 'take set-up reading':
        return this.#withDraft((draft) => this.#take(draft, command, nowMs));
      case 'take back set-up reading':
        return this.#withDraft((draft) => this.#takeBack(draft));
      case 'take sweep for set-up':
        return this.#withDraft((draft) => this.#takeSweep(draft));
      case 'turn set-up round':
        return this.#withDraft((draft) => this.#turnRound(draft));
      case 'keep set-up':
        return this.#withDraft((draft) => this.#keep(draft, nowMs));
      case 'aim by part':
        return this.#withDraft((draft) => this.#aim(draft, command.stack, nowMs));
      default:
        return null;
    }
  }

  #freshTyping(): Measuring {
    return new Measuring(
      () => this.#context.setup,
      (link) => this.#context.report(link),
    );
  }

  #withDraft(act: (draft: Draft) => Answer): Answer {
    return this.#told(this.#chosen === null ? refused(noSetUpChosen()) : act(this.#chosen));
  }

  #told(answer: Answer): Answer {
    if (answer.ok) this.#tell();
    return answer;
  }

  #choose(wanted: { name: string; plane?: string; axis?: 'x' | 'y' }): Answer {
    const row = this.#rows.find(({ name }) => name === wanted.name);
    if (!row) return refused(setUpNotKnown(wanted.name, this.#rows));
    const draft = this.#drafts.get(row.name) ?? freshDraft(row);
    const plane = wanted.plane ?? draft.plane;
    const axis = wanted.axis ?? draft.axis;
    const hasPlane = row.fit !== 'line' || row.planes.some(({ name }) => name === plane);
    const hasAxis = row.fit !== 'line' || row.axes.includes(axis);
    if (!hasPlane || !hasAxis) {
      return refused(setUpNotKnown(`${row.name} ${plane} ${axis}`, this.#rows));
    }
    if (plane !== draft.plane || axis !== draft.axis) Object.assign(draft, unread());
    draft.plane = plane;
    draft.axis = axis;
    this.#drafts.set(row.name, draft);
    this.#chosen = draft;
    this.#typing = this.#freshTyping();
    return this.#told(DONE);
  }

  #tellDraft(draft: Draft, ask: string, text: string): Answer {
    const read = asksOf(draft.row).some(({ name }) => name === ask)
      ? readTold(ask, text, this.#context.setup.displayUnit)
      : readTold('', ask, this.#context.setup.displayUnit);
    if (!read.ok) return refused(read.fault);
    draft.told = { ...draft.told, [ask]: text.trim() };
    draft.isKept = false;
    return DONE;
  }

  #take(
    draft: Draft,
    command: Extract<Command, { kind: 'take set-up reading' }>,
    nowMs: number,
  ): Answer {
    if (draft.points.length >= MOST_SET_UP_POINTS * (draft.turned ? 2 : 1)) {
      return refused(setUpFull());
    }
    const at = placeOf(command.at, draft.row.fit, this.#context.setup.displayUnit);
    if (!at.ok) return refused(at.fault);
    const from = command.keyed === undefined ? this.#device : this.#typing;
    const measured = from.indicator(command, nowMs);
    if (!measured.ok) return refused(measured.fault);
    return this.#changed(draft, [
      ...draft.points,
      { ...at.value, readingMm: measured.mm, turned: draft.turned },
    ]);
  }

  #takeBack(draft: Draft): Answer {
    this.#typing.compareWithNone();
    return this.#changed(draft, draft.points.slice(0, -1));
  }

  #takeSweep(draft: Draft): Answer {
    const sweep = this.#context.store.get('sweep');
    const isOfUse = sweep?.state === 'ended' && sweep.result !== null && sweep.outdated === '';
    if (draft.row.fit !== 'line' || !isOfUse || this.#context.setup.axis !== draft.axis) {
      return refused(noSweepForSetUp(draft.row, draft.axis));
    }
    const taken = sweep.points.slice(0, MOST_SET_UP_POINTS).map(({ xMm, readingMm }) => ({
      xMm,
      angleDeg: null,
      readingMm,
      turned: draft.turned,
    }));
    if (sweep.points.length > MOST_SET_UP_POINTS) return refused(setUpFull());
    const before = draft.points.filter(({ turned }) => turned !== draft.turned);
    return this.#changed(draft, [...before, ...taken]);
  }

  #turnRound(draft: Draft): Answer {
    if (!isTurned(draft.row)) return refused(setUpNotKnown(draft.row.name, this.#rows));
    draft.turned = !draft.turned;
    return done(
      draft.turned
        ? 'Turn the bar end for end under the part, and read the same places again.'
        : 'The bar lies as it did at first.',
    );
  }

  #changed(draft: Draft, points: SetUpPoint[]): Answer {
    draft.points = points;
    draft.isKept = false;
    draft.isAimedBy = false;
    return DONE;
  }

  #keep(draft: Draft, nowMs: number): Answer {
    const outcome = this.#judge(draft);
    if (!outcome.ok) return refused(outcome.fault);
    if (draft.isKept) return refused(nothingToKeep());
    this.#keptCount += 1;
    const kept: SetUpKept = {
      number: this.#keptCount,
      name: draft.row.name,
      plane: draft.plane,
      axis: draft.axis,
      title: draft.row.title,
      asked: { ...draft.told },
      points: draft.points,
      judged: outcome.judged,
      simulated: this.#context.report('indicator').simulated,
    };
    this.#kept.push(kept);
    if (this.#kept.length > MOST_SET_UPS_KEPT) this.#kept.shift();
    draft.isKept = true;
    this.#context.record({ entry: 'set-up kept', atMs: nowMs, kept });
    return done('Kept in the record of this job.');
  }

  #aim(draft: Draft, stack: 'left' | 'right', nowMs: number): Answer {
    const outcome = this.#judge(draft);
    if (!outcome.ok || outcome.judged.aim === null || draft.isAimedBy) {
      return refused(noPartToAimBy());
    }
    const { stackLeftSlope, stackRightSlope } = outcome.judged.aim;
    const more = stack === 'left' ? stackLeftSlope : stackRightSlope;
    const { targetSlope } = this.#context.setup;
    const next = Math.tan(Math.atan(targetSlope) + Math.atan(more));
    const answer = this.#context.changeSetup({ targetSlope: next }, nowMs);
    if (!answer.ok) return answer;
    draft.isAimedBy = true;
    return done(`The next bar in the vise is to show a slope of ${next.toFixed(6)}.`);
  }

  #judge(draft: Draft) {
    const { setup } = this.#context;
    const { indicator } = setup;
    return judgeSetUp(draft.row, {
      plane: draft.plane,
      axis: draft.axis,
      told: draft.told,
      points: draft.points,
      unit: setup.displayUnit,
      benchRises: setup.rises,
      resolutionMm: indicator.resolutionMm,
      permissibleErrorMm: indicator.permissibleErrorMm,
      repeatabilityMm: indicator.repeatabilityMm,
    });
  }

  #tell(): void {
    const draft = this.#chosen;
    const outcome = draft && this.#judge(draft);
    this.#context.store.set('setUps', {
      rows: this.#rows.map((row) => briefOf(row, this.#context.setup.displayUnit)),
      chosen: draft &&
        outcome && {
          name: draft.row.name,
          plane: draft.plane,
          axis: draft.axis,
          asked: { ...draft.told },
          turned: draft.turned,
          points: draft.points,
          judged: outcome.ok ? outcome.judged : null,
          whyNot: outcome.ok ? null : outcome.fault,
          kept: draft.isKept,
        },
      kept: [...this.#kept],
    });
  }
}

function unread(): Pick<Draft, 'points' | 'turned' | 'isKept' | 'isAimedBy'> {
  return { points: [], turned: false, isKept: false, isAimedBy: false };
}

function freshDraft(row: SetUp): Draft {
  const plane = row.fit === 'line' ? row.planes[0].name : '';
  const axis = row.fit === 'line' ? (row.axes[0] ?? 'x') : 'x';
  return { row, plane, axis, told: {}, ...unread() };
}

/** Degrees round a circle, mm along a line; a bare number is in the unit of the screen. */
function placeOf(
  text: string,
  fit: SetUp['fit'],
  unit: 'in' | 'mm',
): { ok: true; value: Pick<SetUpPoint, 'xMm' | 'angleDeg'> } | { ok: false; fault: Fault } {
  const bare = parseNumber(text);
  if (fit === 'line') {
    const mm = bare.ok ? { ok: true as const, value: toMm(bare.value, unit) } : parseLengthMm(text);
    return mm.ok
      ? { ok: true, value: { xMm: mm.value, angleDeg: null } }
      : { ok: false, fault: placeNotRead(text, 'a length, such as 2.5') };
  }
  const rad = parseAngleRad(bare.ok ? `${text.trim()}deg` : text);
  if (!rad.ok) return { ok: false, fault: placeNotRead(text, 'degrees, such as 45') };
  const angleDeg = bare.ok ? bare.value : (rad.value * 180) / Math.PI;
  return { ok: true, value: { xMm: null, angleDeg } };
}
