import {
  type Caution,
  faultLine,
  formatLength,
  type SweepResult,
  type Verdict,
} from '@taptrue/protocol';
import { PositionBins } from '../measure/sweep/bins.ts';
import { judgeSweep } from '../measure/verdict/judge-sweep.ts';
import type { SweepInput, SweepPass } from '../measure/verdict/sweep-input.ts';
import { type CliCommand, EXIT, Refusal, type Terminal } from './command.ts';
import { FIT_HELP, type FitOptions, readFitOptions } from './fit-options.ts';
import { fitReport } from './fit-report.ts';
import { type ChosenSetUp, chooseSetUp, withSetUp } from './fit-set-up.ts';
import { readSweepFile, type SweepFile } from './read-sweep-file.ts';
import { readText } from './read-text.ts';

const EXIT_BY_VERDICT: Readonly<Record<Verdict, number>> = {
  true: EXIT.done,
  'not true': EXIT.notTrue,
  'too close to call': EXIT.tooCloseToCall,
};

/** The points of a pass gathered into equal steps over its own length. */
function binned(pass: SweepPass, bins: number): SweepPass {
  const { points } = pass;
  const fromMm = points.reduce((least, { xMm }) => Math.min(least, xMm), Number.POSITIVE_INFINITY);
  const toMm = points.reduce((most, { xMm }) => Math.max(most, xMm), Number.NEGATIVE_INFINITY);
  // A hair wider than a share of the length, so that the last point falls into the last step.
  const firstStepMm = ((toMm - fromMm) / bins) * (1 + 1e-9);
  if (!(firstStepMm > 0)) return pass;
  const gathered = new PositionBins({ firstStepMm, mostBins: bins, originMm: fromMm });
  for (const { xMm, readingMm } of points) gathered.add(xMm, readingMm);
  if (gathered.refused > 0) {
    throw new Refusal(
      `${gathered.refused} positions lie more than 10 m from the first. Check the unit of position.`,
    );
  }
  const inOrder = gathered.points();
  return { pass: pass.pass, points: pass.pass === 'back' ? inOrder.reverse() : inOrder };
}

/** Two stations with nothing known of the indicator: its count is what its digits can show. */
function knownResolution(options: FitOptions, file: SweepFile) {
  const cautions: Caution[] = [];
  const isKnown =
    options.resolutionMm !== null ||
    options.permissibleErrorMm !== null ||
    options.repeatabilityMm !== null;
  if (isKnown || file.passes.some((pass) => pass.points.length !== 2)) {
    return { resolutionMm: options.resolutionMm, cautions };
  }
  const count = formatLength(file.lastDigitMm, file.displayUnit, { decimals: 6 });
  cautions.push({
    code: 'resolution-from-digits',
    text: `Nothing was said of the indicator, so its count was taken from the digits in the file: ${count}. Give the resolution, or better the permissible error.`,
  });
  return { resolutionMm: file.lastDigitMm, cautions };
}

/** What was asked for and cannot be answered without a pivot is said, never passed over. */
function pivotMissing({ pivotMm, parkedMm, malletMm }: FitOptions): Caution[] {
  if (pivotMm !== null || (parkedMm === null && malletMm === null)) return [];
  const given = [
    parkedMm === null ? [] : ['--parked'],
    malletMm === null ? [] : ['--mallet'],
  ].flat();
  const text = `${given.join(' and ')} could not be used: without a pivot there is neither a tap nor a reading to stop at. Say where the vise turns: --pivot LENGTH.`;
  return [{ code: 'pivot-missing', text }];
}

function eachPassHasALine(passes: readonly SweepPass[]): void {
  const short = passes.find(({ points }) => points.length < 2);
  if (!short || passes.length < 2) return;
  throw new Refusal(
    `The pass ${short.pass} has one point, and a line needs two. Add its other readings, or strike it out.`,
  );
}

function sweepInput(
  options: FitOptions,
  file: SweepFile,
  resolutionMm: number | null,
  chosen: ChosenSetUp | null,
): SweepInput {
  const { bins, pivotMm, parkedMm } = options;
  return {
    passes: bins === null ? file.passes : file.passes.map((pass) => binned(pass, bins)),
    axis: options.axis,
    displayUnit: file.displayUnit,
    rises: chosen ? chosen.risesOfLine : options.rises,
    stylusFactor: options.stylusFactor,
    targetSlope: options.targetSlope,
    pivot: pivotMm === null ? null : { xMm: pivotMm, acrossMm: null },
    malletMm: options.malletMm,
    parked: parkedMm === null ? null : { xMm: parkedMm, readingMm: null },
    limit: options.limit,
    decisionRule: options.decisionRule,
    resolutionMm,
    permissibleErrorMm: options.permissibleErrorMm,
    repeatabilityMm: options.repeatabilityMm,
    rangeMm: null,
    pointsAre: bins === null ? 'single readings' : 'bin means',
  };
}

/** The same sweep with the tool turned end for end, where its file was given. */
async function sweepTurned(options: FitOptions, chosen: ChosenSetUp): Promise<SweepResult | null> {
  const path = chosen.said.turnedFile;
  if (path === null) return null;
  const file = readSweepFile(await readText(path));
  eachPassHasALine(file.passes);
  const known = knownResolution(options, file);
  const judged = judgeSweep(sweepInput(options, file, known.resolutionMm, chosen));
  if (!judged.ok) throw new Refusal(`${path}: ${faultLine(judged.noLine)}`);
  return judged.result;
}

async function run(args: string[], terminal: Terminal): Promise<number> {
  const options = readFitOptions(args);
  const chosen = options.setUp && (await chooseSetUp(options, options.setUp));
  const file = readSweepFile(await readText(options.file));
  eachPassHasALine(file.passes);
  const known = knownResolution(options, file);
  const judged = judgeSweep(sweepInput(options, file, known.resolutionMm, chosen));
  if (!judged.ok) throw new Refusal(faultLine(judged.noLine));
  if (judged.tapRefused) throw new Refusal(faultLine(judged.tapRefused));

  const turned = chosen && (await sweepTurned(options, chosen));
  const own = chosen
    ? withSetUp(judged.result, chosen, options, file.displayUnit, turned)
    : judged.result;
  const result = {
    ...own,
    cautions: [...own.cautions, ...pivotMissing(options), ...known.cautions, ...file.cautions],
  };
  terminal.out(
    options.json
      ? JSON.stringify(result, null, 2)
      : fitReport(result, options.limit, file.displayUnit, chosen?.setUp.cautions),
  );
  return result.verdict === null ? EXIT.done : EXIT_BY_VERDICT[result.verdict];
}

export const fitCommand: CliCommand = {
  name: 'fit',
  summary: 'fits the line through a file of positions and readings',
  help: FIT_HELP,
  run,
};
