import type { FindQuestion, FindSection, LinkName } from '@taptrue/protocol';
import type { FindNow } from './find-device.ts';
import {
  areUsual,
  keptLinesWords,
  linesWords,
  numberText,
  settingsWords,
  stepWords,
  unitOf,
} from './find-words.ts';
import type { QuestionStep } from './steps.ts';

const SENDS = {
  streams: 'sends by itself',
  asked: 'sends when asked',
  'its own key': 'sends when its key is pressed',
} as const;

/** `9600 baud, 8 bits, no parity, DTR up, RTS down`; empty where there is nothing to set. */
export function setWords({ tuning }: QuestionStep): string {
  if (tuning.settings === null) return '';
  const words = settingsWords(tuning.settings);
  return areUsual(tuning.lines) ? words : `${words}, ${linesWords(tuning.lines)}`;
}

/** What was seen of the lead; empty: nothing that need be said. */
export function leadWords({ silentOtherwise, tuning }: QuestionStep): string {
  return silentOtherwise ? keptLinesWords(tuning.lines) : '';
}

/** Where a search stands, as the screens show it. */
export function findSection(link: LinkName, port: string, now: FindNow): FindSection {
  const { step, ending, tried, secondsLeft, consent } = now;
  const common = { link, port, settingsTried: tried, secondsLeft, consent };
  if (ending?.kind === 'nothing') {
    const { fault } = ending;
    return { ...common, state: 'nothing found', sentence: fault.what, question: null, fault };
  }
  if (step?.kind === 'question') {
    const sentence = stepWords(step);
    return { ...common, state: 'question', sentence, question: questionOf(step, now), fault: null };
  }
  if (step === null) {
    return { ...common, state: 'stopped', sentence: 'Stopped.', question: null, fault: null };
  }
  return { ...common, state: step.stage, sentence: stepWords(step), question: null, fault: null };
}

function questionOf(step: QuestionStep, now: FindNow): FindQuestion {
  const { candidate, seen, index, all } = step;
  const sample = now.sample ?? candidate.sample;
  return {
    number: numberText(sample),
    unit: unitOf(candidate.unit, sample),
    channel: candidate.channel,
    text: sample.text,
    shape: candidate.shape.title,
    settings: setWords(step),
    lead: leadWords(step),
    sends: SENDS[seen.trigger],
    index,
    of: all.length,
  };
}
