import type { SetUpJudged } from '@taptrue/protocol';
import { judgeCircleSetUp } from './judge-circle-set-up.ts';
import { judgeLineSetUp } from './judge-line-set-up.ts';
import type { SetUp } from './set-up.ts';
import type { SetUpOutcome, SetUpQuestion } from './set-up-question.ts';
import { Answers, asksOf } from './told.ts';

/** What the readings of a set-up say. Pure: the same question gives the same answer. */
export function judgeSetUp(row: SetUp, question: SetUpQuestion): SetUpOutcome {
  const missing = asksOf(row).find(
    ({ name, needed }) => needed && (question.told[name] ?? '').trim() === '',
  );
  if (missing) return lacks(`${missing.name}: ${missing.words}`, 'Type it in its field.');
  const answers = new Answers(question.told, question.unit);
  const outcome =
    row.fit === 'circle'
      ? judgeCircleSetUp(row, question, answers)
      : judgeLineSetUp(row, question, answers);
  return outcome.ok ? { ok: true, judged: asOnScreen(outcome.judged) } : outcome;
}

function lacks(got: string, remedy: string): SetUpOutcome {
  return {
    ok: false,
    fault: { code: 'set-up-lacks', what: 'There is no result yet: this is missing.', got, remedy },
  };
}

/** The words of the command line name its options; a screen has fields of the same names. */
function asOnScreen(judged: SetUpJudged): SetUpJudged {
  const text = (words: string) => words.replace(/--([a-z-]+)/g, (_, name) => `"${name}"`);
  return { ...judged, cautions: judged.cautions.map((one) => ({ ...one, text: text(one.text) })) };
}
