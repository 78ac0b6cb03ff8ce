import type { LineShape, PortSettings } from '@taptrue/protocol';
import type { Candidate } from '@taptrue/server/devices/finding/candidates.ts';
import { unitOf } from '@taptrue/server/devices/finding/find-words.ts';
import type { Consent } from '@taptrue/server/devices/finding/search.ts';
import {
  BAUD_RATES,
  type ControlLines,
  FRAMINGS,
  type Framing,
  LINES_TRIED,
} from '@taptrue/server/devices/finding/settings-tried.ts';
import { WiredDevice } from '@taptrue/simulators/wired-device.ts';
import type { ErrorHandling } from '@taptrue/simulators/wrong-settings.ts';
import { passUntil, searchOn } from './found-device.ts';
import { OneClock } from './one-clock.ts';
import { PlaysSamples, screensOf } from './plays-samples.ts';

export interface DeviceThere {
  shape: LineShape;
  settings: PortSettings;
  /** The only levels at which the device has power and sends. */
  lines?: ControlLines;
  readingsPerSecond?: number;
  consent?: Consent;
  errors?: ErrorHandling;
  echoes?: boolean;
  /** A hand presses the key so often while it is asked to. */
  pressesEveryMs?: number;
}

export interface Outcome {
  /** From the beginning to the yes; null: never. */
  foundMs: number | null;
  /** From the beginning until its key was asked for; null: never. */
  keyAskedMs: number | null;
  candidate: Candidate | null;
  settings: PortSettings | null;
  lines: ControlLines | null;
  /** Readings that were asked about, the last one agreed to. */
  asked: string[];
  presses: number;
  faultCode: string;
}

const NOBODY_WAITS_LONGER_MS = 200_000;
const WAIT_FOR_KEY_MS = 120_000;

/** A stranger who knows nothing but what the device's screen says, and answers by that. */
export async function lookFor(there: DeviceThere): Promise<Outcome> {
  const { shape, settings, lines, readingsPerSecond = 10, pressesEveryMs } = there;
  const clock = new OneClock();
  const device = new PlaysSamples(shape, clock, readingsPerSecond);
  const wired = new WiredDevice({
    device,
    settings,
    clock,
    errors: there.errors ?? 'dropped',
    echoes: there.echoes ?? false,
    ...(lines && { wakes: (given) => given.dtr === lines.dtr && given.rts === lines.rts }),
  });
  const { find, tookMs } = searchOn({
    clock,
    consent: there.consent ?? 'refused',
    waitForKeyMs: pressesEveryMs === undefined ? 0 : WAIT_FOR_KEY_MS,
    pipeFor: (tuning, heardWith) => wired.pipe(heardWith, tuning.lines),
  });
  const outcome: Outcome = {
    foundMs: null,
    keyAskedMs: null,
    candidate: null,
    settings: null,
    lines: null,
    asked: [],
    presses: 0,
    faultCode: '',
  };
  if (pressesEveryMs !== undefined) {
    clock.every(pressesEveryMs, () => {
      if (stageOf() !== 'waiting for its key') return;
      outcome.keyAskedMs ??= tookMs();
      outcome.presses += 1;
      device.send();
    });
  }
  const stageOf = () => (find.now.step?.kind === 'listen' ? find.now.step.stage : null);
  const screens = screensOf(shape);
  const ended = () => find.now.ending !== null;
  while (!ended()) {
    await passUntil(
      clock,
      NOBODY_WAITS_LONGER_MS,
      () => find.now.step?.kind === 'question' || ended(),
    );
    const { step } = find.now;
    if (step?.kind !== 'question') break;
    const { sample } = step.candidate;
    const unit = unitOf(step.candidate.unit, sample);
    const { value, channel } = sample;
    const same = screens.some(
      (screen) => screen.value === value && screen.unit === unit && screen.channel === channel,
    );
    outcome.asked.push(`${value} ${unit} ${channel ?? ''} as ${step.candidate.shape.name}`);
    if (same) {
      outcome.foundMs = tookMs();
      outcome.candidate = step.candidate;
      outcome.settings = step.tuning.settings;
      outcome.lines = step.tuning.lines;
    }
    find.answer(same);
  }
  const { ending } = find.now;
  outcome.faultCode = ending?.kind === 'nothing' ? ending.fault.code : '';
  await find.close();
  return outcome;
}

/** What is wrong with an outcome, in words; empty: nothing. */
export function wrongIn(outcome: Outcome, there: DeviceThere, withinMs: number): string {
  const wrong: string[] = [];
  const { foundMs, settings, lines } = outcome;
  if (foundMs === null) wrong.push(`not found (${outcome.faultCode})`);
  else {
    if (foundMs > withinMs) wrong.push(`found after ${foundMs} ms`);
    if (JSON.stringify(settings) !== JSON.stringify(there.settings)) {
      wrong.push(`settings ${JSON.stringify(settings)}`);
    }
    if (there.lines && JSON.stringify(lines) !== JSON.stringify(there.lines)) {
      wrong.push(`lines ${JSON.stringify(lines)}`);
    }
    if (outcome.candidate?.shape.name !== there.shape.name) {
      wrong.push(`as ${outcome.candidate?.shape.name}`);
    }
  }
  if (wrong.length === 0) return '';
  const { baudRate, dataBits, parity } = there.settings;
  const asked = outcome.asked.slice(0, 3).join(' / ');
  return `${there.shape.name} at ${baudRate} ${dataBits} ${parity}: ${wrong.join(', ')}; ${asked}`;
}

/** Lines a second, no more than half of what this speed carries. */
export function rateAt(baudRate: number, wanted: number, shape: LineShape): number {
  const longest = Math.max(...shape.samples.map(({ frame }) => frame.length));
  return Math.min(wanted, baudRate / 11 / longest / 2);
}

/** Every setting that this shape can meet. Packed bytes need all eight bits. */
export function settingsFor(shape: LineShape): PortSettings[] {
  const framings = FRAMINGS.filter(
    ({ dataBits }: Framing) => shape.packed === undefined || dataBits === 8,
  );
  return BAUD_RATES.flatMap((baudRate) => framings.map((framing) => ({ baudRate, ...framing })));
}

export { LINES_TRIED };
