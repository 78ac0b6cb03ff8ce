import { EIGHTH_BITS, type EighthBit } from './eighth-bit.ts';
import {
  ANSWER_BEGINS_WITHIN_MS,
  ANSWER_BITS,
  IDLE_BEFORE_ASKING_MS,
  KEY_LINE_OVER_MS,
  QUICK_LONGEST_MS,
  QUICK_MS,
  SLOW_LONGEST_MS,
  SLOW_MS,
  SOCKET_QUICK_MS,
  SOCKET_SLOW_MS,
  WAKES_WITHIN_MS,
} from './find-times.ts';
import type { Tuning } from './settings-tried.ts';
import type { FindStage, ListenStep, Sending } from './steps.ts';

const SENDS_NOTHING = { sendings: [], sendEveryMs: 0 } as const;

/** The meanings of the eighth bit that a port set so can hear: with a parity of its own there is one. */
function eighthsHeard({ settings }: Tuning): readonly EighthBit[] {
  const wide = settings !== null && settings.dataBits === 8 && settings.parity === 'none';
  return wide ? EIGHTH_BITS : ['data'];
}

function listen(
  stage: FindStage,
  tuning: Tuning,
  times: { forMs: number; longestMs: number },
): ListenStep {
  return {
    kind: 'listen',
    stage,
    tuning,
    eighths: eighthsHeard(tuning),
    ...times,
    endsWhenQuietMs: null,
    ...SENDS_NOTHING,
    thenLeftMs: 0,
  };
}

/** Finds a stream of ten a second and more. */
export function quickStep(tuning: Tuning): ListenStep {
  const forMs = tuning.settings === null ? SOCKET_QUICK_MS : QUICK_MS;
  return listen('listening', tuning, { forMs, longestMs: Math.max(forMs, QUICK_LONGEST_MS) });
}

/** Finds a stream of one a second and more. */
export function slowStep(tuning: Tuning): ListenStep {
  const forMs = tuning.settings === null ? SOCKET_SLOW_MS : SLOW_MS;
  return listen('listening', tuning, { forMs, longestMs: Math.max(forMs, SLOW_LONGEST_MS) });
}

/** The same, and time for a device that starts anew with the control lines before it. */
export function wakingSteps(tunings: readonly Tuning[]): ListenStep[] {
  return tunings.map(slowStep).map((step, index) => {
    const waits = index === 0 && step.tuning.settings !== null;
    if (!waits) return step;
    return { ...step, forMs: WAKES_WITHIN_MS, longestMs: WAKES_WITHIN_MS + step.longestMs };
  });
}

/** Listens once more where something was recognised. */
export function surelyStep(tuning: Tuning, forMs: number): ListenStep {
  return listen('making sure', tuning, { forMs, longestMs: forMs });
}

/** Sends the requests one after the other, each with every meaning of the eighth bit, and hears the answers. */
export function askStep(tuning: Tuning, requests: readonly string[]): ListenStep {
  const eighths = eighthsHeard(tuning);
  const sendings = requests.flatMap((request) =>
    eighths.map((eighth): Sending => ({ request, eighth })),
  );
  return asking('asking', tuning, sendings);
}

/** Sends this one request twice, with the settings that are taken for the device's own. */
export function askAgainStep(tuning: Tuning, request: string): ListenStep {
  const sending: Sending = { request, eighth: 'data' };
  const step = asking('making sure', tuning, [sending, sending]);
  return { ...step, eighths: ['data'] };
}

function asking(stage: FindStage, tuning: Tuning, sendings: readonly Sending[]): ListenStep {
  const baudRate = tuning.settings?.baudRate ?? Number.POSITIVE_INFINITY;
  const sendEveryMs = ANSWER_BEGINS_WITHIN_MS + (ANSWER_BITS * 1000) / baudRate;
  const forMs = IDLE_BEFORE_ASKING_MS + sendings.length * sendEveryMs + ANSWER_BEGINS_WITHIN_MS;
  return {
    ...listen(stage, tuning, { forMs, longestMs: forMs + sendEveryMs }),
    sendings,
    sendEveryMs,
  };
}

/** Waits for a press of the device's key. */
export function keyStep(tuning: Tuning, forMs: number): ListenStep {
  return {
    ...listen('waiting for its key', tuning, { forMs, longestMs: forMs }),
    endsWhenQuietMs: KEY_LINE_OVER_MS,
  };
}

/** The steps in their order, each knowing how long those after it take, and what follows them all. */
export function inOrder(steps: readonly ListenStep[], thenLeftMs = 0): ListenStep[] {
  let leftMs = thenLeftMs;
  return steps
    .toReversed()
    .map((step) => {
      const told = { ...step, thenLeftMs: leftMs };
      leftMs += step.forMs;
      return told;
    })
    .toReversed();
}

export function totalMs(steps: readonly ListenStep[]): number {
  return steps.reduce((sum, { forMs }) => sum + forMs, 0);
}
