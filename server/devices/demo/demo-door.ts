import type {
  DemoAct,
  DemoSection,
  Fault,
  LineShape,
  LinkConfig,
  LinkName,
  Stage,
} from '@taptrue/protocol';
import { REAL_CLOCK, type SimulatorClock } from '@taptrue/simulators/clock.ts';
import { DemoBench } from '@taptrue/simulators/demo-bench.ts';
import { overMemory } from '@taptrue/simulators/over-memory.ts';
import { shapeNamed } from '../formats/shape-table.ts';
import type { MemoryPipe } from '../transport/transport.ts';

export interface DemoOptions {
  /** The same seed gives the same vise, blows and noise. */
  seed: number;
  /** End to end over the bar, mm, positive: right end farther away; absent: drawn from the seed. */
  outOfTrueMm?: number;
  indicatorShape?: string;
  readoutShape?: string;
  indicatorPerSecond?: number;
  readoutPerSecond?: number;
  /** For tests; absent: the machine's clock. */
  clock?: SimulatorClock;
}

/** What the service has of the simulated bench: its two ports, its handles, and what it looks like. */
export interface DemoDoor {
  pipes(device: LinkName): MemoryPipe;
  act(asked: DemoAct): { ok: true; note: string } | { ok: false; fault: Fault };
  /** The user tightened or let go: a stage each turns the simulated vise a little. */
  clamp(stage: Stage): void;
  section(): DemoSection;
  /** Gives the way to stop being called. */
  onChange(changed: () => void): () => void;
  configFor(device: LinkName): LinkConfig;
  close(): void;
}

function mustBeShape(name: string): LineShape {
  const shape = shapeNamed(name);
  if (shape === null) throw new Error(`The simulated bench has no line shape "${name}" to speak.`);
  return shape;
}

/**
 * Starts the built-in simulated bench. The only door through which the service reaches the simulators;
 * what comes through its pipes goes the way of any device's bytes.
 */
export function startDemo(options: DemoOptions): DemoDoor {
  const shapes: Record<LinkName, LineShape> = {
    indicator: mustBeShape(options.indicatorShape ?? 'signed-decimal'),
    readout: mustBeShape(options.readoutShape ?? 'axis-readout'),
  };
  const bench = new DemoBench({
    seed: options.seed,
    outOfTrueMm: options.outOfTrueMm ?? null,
    clock: options.clock ?? REAL_CLOCK,
    indicatorShape: shapes.indicator,
    readoutShape: shapes.readout,
    indicatorPerSecond: options.indicatorPerSecond ?? 50,
    readoutPerSecond: options.readoutPerSecond ?? 20,
    unit: 'in',
  });
  return {
    pipes: (device) => overMemory(bench.device(device)),
    act: (asked) => bench.act(asked),
    clamp: (stage) => bench.clamp(stage),
    section: () => bench.section(),
    onChange: (changed) => bench.onChange(changed),
    configFor: (device) => ({
      source: { kind: 'simulated', device },
      shape: shapes[device].name,
      unit: 'in',
      channel: null,
    }),
    close: () => bench.close(),
  };
}
