import type { LineShape } from '@taptrue/protocol';
import { type Candidate, candidatesOf, type SeenTrigger } from './candidates.ts';
import { settingsOf } from './eighth-bit.ts';
import { ANOTHER_LONGEST_MS, ANOTHER_WITHIN_MS, KEY_EACH_MS, QUICK_MS } from './find-times.ts';
import { areUsual, numberText, unitOf } from './find-words.ts';
import { readingAll, recognised, worthOf } from './judge-hearing.ts';
import { askAgainStep, keyStep, surelyStep } from './make-steps.ts';
import { LINES_TRIED, PARITY_EARS, type Tuning } from './settings-tried.ts';
import type { Evidence } from './shape-hearing.ts';
import type { FindStep, Heard, ListenStep, StepResult } from './steps.ts';

/** What the user agreed to: this candidate, with these settings of the port. */
export interface Found {
  candidate: Candidate;
  tuning: Tuning;
  seen: SeenTrigger;
  /** True: with both control lines up not a byte came of the same device, listened for or asked again. */
  silentOtherwise: boolean;
}

export interface SettleTools {
  shapes: readonly LineShape[];
  /** Takes one step and gives what was heard; a port that fails ends the search. */
  hear(step: ListenStep): Generator<FindStep, Heard, StepResult>;
  ask(step: FindStep & { kind: 'question' }): Generator<FindStep, boolean, StepResult>;
  /** Settings and shapes to which the user said no. */
  ruledOut: Set<string>;
  refused(text: string): void;
}

type Settling<T> = Generator<FindStep, T, StepResult>;

/**
 * From a listening in which something was recognised to the user's yes: how the device sends, whether another
 * parity makes more of it, then one question for each way to read it. Null where nothing stands.
 */
export function* settle(
  heard: Heard,
  step: ListenStep,
  tools: SettleTools,
): Settling<Found | null> {
  const askedHere = step.sendings.length > 0;
  const evidence = heard.hearing.evidence();
  const good = askedHere ? readingAll(evidence) : recognised(evidence, true);
  const first = good[0];
  if (first === undefined) return null;
  const firstTuning = tunedTo(step.tuning, first);
  if (isRuledOut(tools, firstTuning, first)) return null;
  const sent = askedHere
    ? yield* seenAsked(heard, step, good, firstTuning, tools)
    : yield* seenUnasked(heard, step, good, tools);
  if (sent === null) return null;
  const better = yield* betterParity(sent, tools);
  const tuning = tunedTo(better.tuning, better.good[0]!);
  const { silentOtherwise, good: latest } = yield* heardOtherwise(sent, better.good, tuning, tools);
  const candidates = candidatesOf(latest, sent.seen, tools.shapes);
  for (const [index, candidate] of candidates.entries()) {
    const same = yield* tools.ask({
      kind: 'question',
      tuning,
      candidate,
      seen: sent.seen,
      silentOtherwise,
      index,
      all: candidates,
    });
    if (same) return { candidate, tuning, seen: sent.seen, silentOtherwise };
    const unit = unitOf(candidate.unit, candidate.sample) ?? '';
    tools.refused(`${numberText(candidate.sample)} ${unit}`.trim());
  }
  for (const evidence of better.good) tools.ruledOut.add(keyOf(tuning, evidence));
  tools.ruledOut.add(keyOf(firstTuning, first));
  return null;
}

interface Seen {
  seen: SeenTrigger;
  good: Evidence[];
  /** What it was heard with. */
  tuning: Tuning;
  /** Longest time between two readings, as far as it was seen; 0: unknown, one reading a press. */
  periodMs: number;
}

/** By itself, or at its key: where one reading came, whether another follows. */
function* seenUnasked(
  heard: Heard,
  step: ListenStep,
  good: Evidence[],
  { hear }: SettleTools,
): Settling<Seen | null> {
  const readings = good[0]!.readings;
  const streams = { trigger: 'streams' } as const;
  if (readings >= 2)
    return { seen: streams, good, tuning: step.tuning, periodMs: heard.tookMs / (readings - 1) };
  const again = yield* hear({
    ...surelyStep(step.tuning, ANOTHER_WITHIN_MS),
    longestMs: ANOTHER_LONGEST_MS,
  });
  const more = recognised(again.hearing.evidence(), true);
  if (more.length > 0)
    return { seen: streams, good: more, tuning: step.tuning, periodMs: again.tookMs };
  // Bytes that follow and are no reading: what came before was one by chance.
  if (again.hearing.bytes > 0) return null;
  return { seen: { trigger: 'its own key' }, good, tuning: step.tuning, periodMs: 0 };
}

/** The request that is answered: the one last sent when the answer began, else one sent before it. */
function* seenAsked(
  heard: Heard,
  step: ListenStep,
  first: Evidence[],
  tuning: Tuning,
  { hear }: SettleTools,
): Settling<Seen | null> {
  const quiet = yield* hear(surelyStep(tuning, QUICK_MS));
  const unasked = recognised(quiet.hearing.evidence(), true);
  if (unasked.length > 0) {
    return { seen: { trigger: 'streams' }, good: unasked, tuning, periodMs: quiet.tookMs };
  }
  // What the recognised shape itself asks with may be shorter than what was sent.
  const own = first.flatMap(({ shape }) => shape.request?.text ?? []);
  const sent = step.sendings.map(({ request }) => request);
  const upTo = sent.lastIndexOf(heard.answeredTo ?? '') + 1;
  const order = [...own, ...sent.slice(0, upTo).reverse(), ...sent.slice(upTo)];
  for (const request of new Set(order)) {
    const answer = yield* hear(askAgainStep(tuning, request));
    const good = recognised(answer.hearing.evidence(), true);
    if (good.length > 0) return { seen: { trigger: 'asked', request }, good, tuning, periodMs: 0 };
  }
  return null;
}

/**
 * With parity eleven bits go over the wire. Heard with ten, characters whose parity bit is low are lost, and
 * what is left of a line can still be a number, a wrong one. Which are lost depends on whether their ones
 * are even or odd: where characters of both kinds came, none were. Else the device is heard with parity as
 * well, and what makes more of a line wins.
 */
function* betterParity(
  { good, tuning, periodMs, seen }: Seen,
  { hear }: SettleTools,
): Settling<{ good: Evidence[]; tuning: Tuning }> {
  const { settings } = tuning;
  let best = { good, tuning };
  const isWide = settings !== null && settings.parity === 'none' && settings.dataBits === 8;
  if (!isWide || good[0]!.bothParities) return best;
  const forMs = Math.min(2500, Math.max(QUICK_MS, 2.5 * periodMs));
  for (const ear of PARITY_EARS) {
    const tried = { ...tuning, settings: { ...settings, ...ear } };
    const heard = yield* hear(stepAs(seen, tried, forMs));
    const other = recognised(heard.hearing.evidence(), true);
    if (other[0] && worthOf(other[0]) > worthOf(best.good[0]!))
      best = { good: other, tuning: tried };
  }
  return best;
}

/**
 * A device that was silent with both control lines up may have been asleep, or slow, until they changed. So it
 * is heard once more as a port usually opens. One that sends at its key is not: that needs a hand.
 */
function* heardOtherwise(
  { seen, periodMs }: Seen,
  good: Evidence[],
  tuning: Tuning,
  { hear }: SettleTools,
): Settling<{ silentOtherwise: boolean; good: Evidence[] }> {
  if (areUsual(tuning.lines) || seen.trigger === 'its own key') {
    return { silentOtherwise: false, good };
  }
  const forMs = Math.min(2500, Math.max(1000, 2.5 * periodMs));
  const usual = { ...tuning, lines: LINES_TRIED[0]! };
  const heard = yield* hear(stepAs(seen, usual, forMs));
  // What was read before that is a second old: the question must show what the screen shows.
  const again = yield* hear(stepAs(seen, tuning, forMs));
  return {
    silentOtherwise: heard.ended === 'time' && heard.hearing.bytes === 0,
    good: withLatestOf(good, again.hearing.evidence()),
  };
}

function withLatestOf(good: Evidence[], again: Evidence[]): Evidence[] {
  return good.map((before) => {
    const same = again.find(({ shape, readings }) => readings > 0 && shape === before.shape);
    return same && same.latest.length >= before.latest.length
      ? { ...before, latest: same.latest }
      : before;
  });
}

function stepAs(seen: SeenTrigger, tuning: Tuning, forMs: number): ListenStep {
  switch (seen.trigger) {
    case 'streams':
      return surelyStep(tuning, forMs);
    case 'its own key':
      return keyStep(tuning, KEY_EACH_MS);
    case 'asked':
      return askAgainStep(tuning, seen.request);
  }
}

/** The port as the device itself is set, where it was heard so. */
function tunedTo(heardWith: Tuning, { eighth }: Evidence): Tuning {
  const { settings } = heardWith;
  return settings === null ? heardWith : { ...heardWith, settings: settingsOf(settings, eighth) };
}

function keyOf(tuning: Tuning, { shape }: Evidence): string {
  return JSON.stringify([tuning, shape.framing, shape.fields]);
}

function isRuledOut({ ruledOut }: SettleTools, tuning: Tuning, evidence: Evidence): boolean {
  return ruledOut.has(keyOf(tuning, evidence));
}
