import {
  type BenchState,
  declaredPivotMm,
  emptyCard,
  firstSetup,
  type LinkReport,
  zeroCounters,
} from '@taptrue/protocol';
import { emptyPlan } from './empty-plan.ts';
import { noNudges } from './nudge-desk.ts';

/** The state of a bench before anything is known of it. */
export function firstState(name: string, serviceVersion: string): BenchState {
  const setup = firstSetup();
  const noLink: LinkReport = {
    state: 'not set',
    config: null,
    simulated: false,
    trigger: null,
    readingsPerSecond: 0,
    lastText: '',
    counters: zeroCounters(),
    fault: null,
  };
  return {
    bench: {
      name: name,
      simulated: false,
      recordFile: null,
      serviceVersion,
      stage: 'nipped',
      job: { number: 1, standing: 'not measured', sentence: '', next: '' },
      cautions: [],
    },
    links: { indicator: noLink, readout: noLink },
    live: { indicator: null, readout: null, ageMs: null, staleAfterMs: 250, xMm: null },
    setup,
    nudges: noNudges(),
    sweep: null,
    history: { sweeps: [] },
    tap: null,
    pivot: {
      inUse: 'declared',
      xMm: declaredPivotMm(setup),
      uncertaintyMm: setup.pivot.uncertaintyMm,
      declaredMm: declaredPivotMm(setup),
      malletMm: setup.malletMm,
      sentence: '',
      question: null,
      evidence: [],
    },
    faults: { standing: [] },
    demo: null,
    plan: emptyPlan(),
    sets: { sets: [] },
    jobs: { jobs: [] },
    card: emptyCard(),
    timing: { measured: null, whyNot: '' },
    setUps: { rows: [], chosen: null, kept: [] },
    ports: { ports: [], leftOut: 0, watched: false },
    settings: { file: '', fileRead: false, rows: [], fault: null },
    find: null,
    replay: null,
  };
}
