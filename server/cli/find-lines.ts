import type { LineBytesSource } from '@taptrue/protocol';
import type { Candidate } from '../devices/finding/candidates.ts';
import { configOf, titleOf } from '../devices/finding/find-on.ts';
import {
  areUsual,
  keptLinesWords,
  linesWords,
  numberText,
  settingsWords,
  unitOf,
} from '../devices/finding/find-words.ts';
import type { QuestionStep } from '../devices/finding/steps.ts';

const SENT_WORDS = {
  streams: 'by itself',
  asked: 'when asked',
  'its own key': 'when its key is pressed',
} as const;

/** `-0.0125 mm`, with the channel where there is one. */
export function readingWords({ sample, unit, channel }: Candidate): string {
  const of = channel === null ? '' : `  (${channel})`;
  return `${numberText(sample)} ${unitOf(unit, sample) ?? ''}${of}`;
}

/** What was found, for a person: the question, the other ways to read it, how to listen to it from now on. */
export function foundText(source: LineBytesSource, question: QuestionStep): string {
  const { candidate, tuning, seen, silentOtherwise, all } = question;
  const { settings, lines } = tuning;
  const rows: [string, string][] = [
    ['line shape', `${candidate.shape.name}: ${candidate.shape.title}`],
    ['as it came', `"${candidate.sample.text}"`],
    ['it sends', SENT_WORDS[seen.trigger]],
  ];
  if (settings) rows.push(['settings', settingsWords(settings)]);
  if (!areUsual(lines))
    rows.push(['control lines', silentOtherwise ? keptLinesWords(lines) : linesWords(lines)]);
  if (seen.trigger === 'asked') rows.push(['asked with', JSON.stringify(seen.request)]);
  const others = all.slice(1).map((other) => `  ${readingWords(other)}   ${other.shape.name}`);
  return [
    `Found on ${titleOf(source)}. Does the device’s screen say`,
    '',
    `  ${readingWords(candidate)}   ?`,
    '',
    ...rows.map(([name, words]) => `${name.padEnd(15)}${words}`),
    ...(others.length > 0 ? ['', 'If it does not, it may be:', ...others] : []),
    '',
    ...howToListen(source, question),
  ].join('\n');
}

function howToListen(source: LineBytesSource, { candidate, tuning }: QuestionStep): string[] {
  if (candidate.shapeIsNew) {
    return ['Connect it on the page under Devices, Find: no shipped shape is sent so.'];
  }
  const { source: set, shape, unit, channel } = configOf(source, candidate, tuning);
  const { settings } = tuning;
  const words = ['taptrue listen', `--port ${titleOf(source)}`, `--shape ${shape}`];
  if (unit !== 'as sent') words.push(`--unit ${unit}`);
  if (channel !== null) words.push(`--channel ${channel}`);
  if (settings) {
    words.push(`--baud ${settings.baudRate}`);
    if (settings.dataBits !== 8) words.push(`--data-bits ${settings.dataBits}`);
    if (settings.parity !== 'none') words.push(`--parity ${settings.parity}`);
    if (set.kind === 'serial' && set.lines) {
      words.push(`--dtr ${level(set.lines.dtr)}`, `--rts ${level(set.lines.rts)}`);
    }
  }
  return ['To see it live:', `  ${words.join(' ')}`];
}

function level(up: boolean): string {
  return up ? 'up' : 'down';
}

/** The same for a script: the question as an object. */
export function foundObject(source: LineBytesSource, question: QuestionStep) {
  const { tuning, seen, silentOtherwise, all } = question;
  return {
    kind: 'found',
    port: titleOf(source),
    settings: tuning.settings,
    lines: tuning.lines,
    silentOtherwise,
    sends: seen.trigger,
    request: seen.trigger === 'asked' ? seen.request : null,
    candidates: all.map((candidate) => ({
      config: configOf(source, candidate, tuning),
      shapeIsNew: candidate.shapeIsNew,
      value: candidate.sample.value,
      decimals: candidate.sample.decimals,
      unit: unitOf(candidate.unit, candidate.sample),
      channel: candidate.channel,
      text: candidate.sample.text,
    })),
  };
}
