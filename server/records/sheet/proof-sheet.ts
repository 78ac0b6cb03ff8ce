import {
  formatAngle,
  formatLength,
  RADIANS_PER_ARCSEC,
  type Setup,
  type SweepResult,
} from '@taptrue/protocol';
import { guardFactor } from '../../measure/verdict/verdict.ts';
import type { Paper } from '../../plan/sheet/setup-sheet.ts';
import { type FinalAngle, finalAngle } from './final-angle.ts';
import { safe, shortened } from './html.ts';
import type { SheetFacts, StageFacts } from './sheet-facts.ts';
import {
  angleFacts,
  indicatorFacts,
  jobFacts,
  limitWords,
  minute,
  setUpFacts,
} from './sheet-lists.ts';
import { sheetPicture } from './sheet-picture.ts';
import { stagePlot } from './stage-plot.ts';
import { PROOF_STYLE } from './style.ts';

export interface SheetOptions {
  paper: Paper;
  /** Printed as given, so that the same record gives the same page. */
  printedText: string;
  /** Printed out of a replay: nobody measures now. */
  isReplay?: boolean;
}

/** What a straight sweep cannot show, whatever its figures. Common practice, no source. */
const NOT_PROVED = [
  'the stack: a wrong block, a wear pair forgotten, dirt in a joint',
  'the bar: its length between the rolls, the rolls, its seat',
  'the machine: X square to Y, straight travel, how it cuts',
  'what comes after: the first piece is measured for itself',
];

/** Letters a person wrote that fit at the usual size; the longest there can be still fit at the smaller one. */
const MOST_WORDS = 260;

function wordsOf({ state, plan, final, setUps, signatures: signed }: SheetFacts): number {
  const texts = [
    ...Object.values(state.card),
    plan?.question.referenceLine ?? '',
    ...signed.map(({ who }) => who),
    // The usual cautions take some 200 letters; what comes on top needs the room.
    ...final.result.cautions.map(({ text }) => text),
    ...setUps.map(({ judged }) => judged.sentence + judged.correction),
  ];
  return texts.reduce((sum, text) => sum + text.length, 0);
}

const arcsec = (value: number, plus = false) => formatAngle(value * RADIANS_PER_ARCSEC, { plus });

/** The one-page record of a job as a self-contained HTML page that prints on one sheet of A4 or Letter. */
export function proofSheet(facts: SheetFacts, options: SheetOptions): string {
  const { state, opened } = facts;
  const title = `Record of job ${opened.start.job}${state.card.jobNumber ? `: ${shortened(state.card.jobNumber)}` : ''}`;
  const angle = finalAngle(facts.plan, facts.final.result);
  const columns = (left: string, right: string) =>
    `<div class="columns"><section>${left}</section><section>${right}</section></div>`;
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${safe(title)}</title>
<style>@page{size:${options.paper === 'a4' ? 'A4' : 'letter'};margin:10mm}${PROOF_STYLE}</style></head><body${wordsOf(facts) > MOST_WORDS ? ' class="dense"' : ''}>
${across(facts, options)}
<header><h1>${safe(title)}</h1><span>${safe(options.printedText)}</span></header>
${columns(`<h2>The job</h2>${jobFacts(facts)}<h2>The indicator</h2>${indicatorFacts(facts)}`, `<h2>The angle</h2>${angleFacts(facts)}<h2>Bar and blocks</h2>${setUpFacts(facts)}`)}
${answer(facts, angle)}
<h2>Last sweep of each stage</h2><div class="stages">${facts.stages.map((stage) => stageBlock(stage, state.setup, facts.final.result)).join('')}</div>
${otherSetUps(facts)}${lying(facts)}
${columns(`<h2>What the sweep does not prove</h2><ul>${NOT_PROVED.map((text) => `<li>${safe(text)}</li>`).join('')}</ul>`, `<h2>Watch out for</h2>${cautions(facts)}`)}
${signatures(facts)}
${footer(facts)}
</body></html>
`;
}

function across({ isSimulated }: SheetFacts, { isReplay }: SheetOptions): string {
  const word = [isReplay ? 'REPLAY' : '', isSimulated ? 'SIMULATED' : ''].filter(Boolean).join(' ');
  if (word === '') return '';
  return [50, 140, 225]
    .map((top) => `<div class="across" style="top:${top}mm">${word}</div>`)
    .join('');
}

/** On one page; the record has all of them. */
const MOST_SET_UPS_SHOWN = 5;

function otherSetUps({ setUps }: SheetFacts): string {
  if (setUps.length === 0) return '';
  const shown = setUps.slice(-MOST_SET_UPS_SHOWN);
  const rows = shown.map(
    ({ title, judged, simulated }) =>
      `<li><b>${safe(title)}</b>${simulated ? ' (simulated)' : ''}: ${safe(`${judged.verdict ?? 'not judged'}. ${judged.sentence} ${judged.correction}`)}</li>`,
  );
  const earlier = setUps.length - shown.length;
  const more = earlier === 0 ? '' : `<li>${earlier} more in the record.</li>`;
  return `<h2>Other set-ups of this job</h2><ul>${rows.join('')}${more}</ul>`;
}

/**
 * Not drawn where the vise was moved since: it lies otherwise. Nor where long words and what was done after the
 * sweep or the signature need the room of it.
 */
function lying(facts: SheetFacts): string {
  const { final, isPlannedLater, outdated, setUps, signatures: signed } = facts;
  const isMore =
    signed.some(({ since }) => since.length > 0) || final.isJudgedAnew || isPlannedLater;
  if (setUps.length > 1) return '';
  if (outdated !== '' || (isMore && wordsOf(facts) > MOST_WORDS)) return '';
  return `<h2>As it lies, seen from above</h2>${sheetPicture(facts)}`;
}

function answer(facts: SheetFacts, angle: FinalAngle | null): string {
  const { outdated, final, state } = facts;
  const { result, stage } = final;
  const { setup } = state;
  const sweepSize =
    result.outOfTrueArcsecExpanded === null
      ? 'uncertainty not known'
      : `± ${arcsec(result.outOfTrueArcsecExpanded)} (95 %)`;
  const sweep = [
    `<p>Swept edge, at ${safe(stage)}</p><strong>${safe(result.verdict ?? 'not judged')}</strong>`,
    `<p>${safe(`${arcsec(result.deviationArcsec, true)} ${sweepSize} off the line wanted; counter-clockwise is plus.`)}</p>`,
    `<p>${safe(`Limit ${limitWords(setup, result)}. ${ruleWords(setup, result)}`)}</p>`,
    stage === 'tight' ? '' : '<p><b>The clamps were not tight: the job is not finished.</b></p>',
    final.isJudgedAnew ? `<p>${safe(recordedWords(final.ended.result!))}</p>` : '',
    outdated === '' ? '' : `<p><b>It no longer says how the vise lies: ${safe(outdated)}</b></p>`,
  ];
  const jaw =
    angle === null
      ? [
          '<p>The jaw’s angle</p><strong>not reckoned</strong><p>No plan was used: the sweep alone knows no angle of the jaw.</p>',
        ]
      : [
          `<p>The jaw’s angle, stack and bar reckoned in</p><strong>${safe(arcsec(angle.angleArcsec))}${angle.expandedArcsec === null ? '' : ` ± ${safe(arcsec(angle.expandedArcsec))}`}</strong>`,
          `<p>${safe(`${arcsec(angle.offArcsec, true)} off the angle wanted${angle.expandedArcsec === null ? '; its uncertainty is not known' : '; ± holds for 95 %'}.`)}</p>`,
          angle.toleranceArcsec === null
            ? '<p>No tolerance of the print was given.</p>'
            : `<p>${safe(`Tolerance of the print ±${arcsec(angle.toleranceArcsec)}: ${angle.verdict ?? 'not judged'}, ${guardWords(angle.standardArcsec, angle.degreesOfFreedom)}.`)}</p>`,
          facts.isPlannedLater
            ? '<p><b>This plan was taken after the last sweep: that was swept for another, or for none.</b></p>'
            : '',
        ];
  return `<div class="answer"><div>${jaw.join('')}</div><div>${sweep.join('')}</div></div>`;
}

/** The list of jobs and the recording have what it said when it ended: both must be told to be the same sweep. */
function recordedWords({ verdict, deviationArcsec, limitArcsec }: SweepResult): string {
  const limit = limitArcsec === null ? 'no limit' : `±${arcsec(limitArcsec)}`;
  return `The setup was changed after it; when it ended it said: ${verdict ?? 'not judged'}, ${arcsec(deviationArcsec, true)}, by ${limit}.`;
}

function ruleWords({ decisionRule }: Setup, result: SweepResult): string {
  return decisionRule === 'guarded'
    ? `Decision rule: ${guardWords(result.angleStandardUncertaintyArcsec, result.degreesOfFreedom)}.`
    : 'Decision rule: plain comparison, the uncertainty left out.';
}

/** With u itself, so that whoever checks it by hand can. */
function guardWords(u: number | null, degreesOfFreedom: number | null): string {
  const factor = guardFactor(degreesOfFreedom).toFixed(3);
  return `guarded one-sidedly by ${factor} u (Student's t, 95 %)${u === null ? '' : `, u = ${arcsec(u)}`}`;
}

/** What each stage was judged by is said where it is not what the last one is judged by. */
function otherLimit(result: SweepResult, final: SweepResult): string {
  const { limitArcsec, decisionRule } = result;
  if (limitArcsec === final.limitArcsec && decisionRule === final.decisionRule) return '';
  if (limitArcsec === null) return '';
  return `, by ±${arcsec(limitArcsec)}${decisionRule === 'guarded' ? '' : ', plain'}`;
}

function stageBlock(facts: StageFacts, setup: Setup, final: SweepResult): string {
  const { stage, ended, result, shiftArcsec } = facts;
  const size =
    result.outOfTrueArcsecExpanded === null ? '' : ` ± ${arcsec(result.outOfTrueArcsecExpanded)}`;
  const lines = [
    `<b>${safe(stage)}</b>: ${safe(`${result.verdict ?? 'not judged'}${otherLimit(result, final)}`)}`,
    safe(`${arcsec(result.deviationArcsec, true)}${size}`),
    safe(
      `${formatLength(result.endToEndMm, setup.displayUnit, { plus: true })} end to end; ${result.points} points, sweep ${ended.sweep}`,
    ),
    shiftArcsec === null ? '' : safe(`tightening turned ${arcsec(shiftArcsec, true)}`),
  ].filter(Boolean);
  return `<div>${stagePlot(facts, setup.targetSlope, setup.displayUnit)}${lines.map((line) => `<p>${line}</p>`).join('')}</div>`;
}

/** As they were ticked with the last signature; what came up after it, and unsigned all, with boxes to tick by hand. */
function cautions({ signatures: signed, state, final }: SheetFacts): string {
  const last = signed.at(-1);
  const ticked = last?.cautions ?? [];
  const now = last?.since.length === 0 ? [] : [...state.bench.cautions, ...final.result.cautions];
  const all = [...ticked, ...now.map((one) => ({ ...one, ticked: false }))].filter(
    ({ code }, at, every) => every.findIndex((other) => other.code === code) === at,
  );
  if (all.length === 0) return '<p>Nothing beyond the usual.</p>';
  const rows = all.map(
    ({ text, ticked: isTicked }) =>
      `<li><span class="box">${isTicked ? '✓' : ''}</span>${safe(text)}</li>`,
  );
  return `<ul class="ticks">${rows.join('')}</ul>`;
}

/** Boxes that stand beside each other; who signed earlier is in the record. */
const MOST_SIGNATURES = 3;

function signatures({ signatures: signed }: SheetFacts): string {
  const done = signed
    .slice(-MOST_SIGNATURES)
    .map(
      ({ role, who, wallClock, fingerprint, lines, holds }) =>
        `<div>${safe(role)}<b>${safe(shortened(who))}</b>${safe(minute(wallClock))}, ${lines} lines<br><code>${fingerprint}</code>${holds ? '' : '<br><b>does not fit the record: do not trust it</b>'}</div>`,
    );
  const open = ['set by', 'checked by', 'first piece by']
    .filter((role) => !signed.some((one) => one.role === role))
    .slice(0, MOST_SIGNATURES - done.length)
    .map((role) => `<div>${role}</div>`);
  return `<div class="signed">${[...done, ...open].join('')}</div>${doneSince(signed)}`;
}

/** Who signed before something was done does not stand for it; what came after the first of them is said. */
function doneSince(signed: SheetFacts['signatures']): string {
  const before = signed.slice(-MOST_SIGNATURES).filter(({ since }) => since.length > 0);
  const [first] = before;
  if (!first) return '';
  const names = [...new Set(before.map(({ who }) => shortened(who)))].join(' and ');
  const words = `After ${names} signed, ${first.since.join(', ')}: that stands for the record before it, not for this page. Sign again.`;
  return `<p><b>${safe(words)}</b></p>`;
}

function footer(facts: SheetFacts): string {
  const { opened, fingerprint, different, sweeps, taps, timesTakenUp, signatures: signed } = facts;
  const again =
    different === 0
      ? 'Told again on printing, every result came out of the readings to the last digit.'
      : `Told again on printing, ${different} results came out otherwise: see taptrue verify.`;
  const taken =
    timesTakenUp === 0
      ? ''
      : ` The service was ended and started again ${timesTakenUp === 1 ? 'once' : `${timesTakenUp} times`}.`;
  const earlier = signed.length - MOST_SIGNATURES;
  const more = earlier <= 0 ? '' : ` ${earlier} more signed earlier.`;
  const last = signed.at(-1)?.fingerprint;
  // What is printed before a signature is the fingerprint of none.
  const matched = last
    ? `Paper and record are matched with <code>taptrue verify --fingerprint ${last.slice(0, 16)}</code>.`
    : 'Nobody has signed: paper and record can be matched once someone has.';
  return `<footer><p>${safe(`${sweeps} sweeps, ${taps === 1 ? '1 tap' : `${taps} taps`} noticed.${taken} ${again}`)}</p>
<p>Record <code>${safe(opened.start.key)}</code>, ${fingerprint.lines} lines, SHA-256 <code>${fingerprint.sha256}</code>.${more} ${matched}</p>
<p>Local rules and licensed practice come first. This page is no interlock and commands nothing.</p></footer>`;
}
