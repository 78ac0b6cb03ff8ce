import { setTimeout as wait } from 'node:timers/promises';
import type {
  Answer,
  BenchState,
  Command,
  LinkState,
  Stage,
  SweepResult,
  TapSection,
} from '@taptrue/protocol';
import { expect } from 'vitest';
import type { Program } from './programs.ts';

const LOOK_EVERY_MS = 30;
const SEEN_WITHIN_MS = 10_000;
/** A table that has not moved for so long has arrived; at 100 readings a second that is 15 equal positions. */
const STANDS_STILL_MS = 150;
/** A needle needs this long to be seen as settled after a blow. */
const SETTLED_MS = 350;
const MOST_BLOWS = 25;
const HARDER = { light: 'medium', medium: 'firm', firm: 'firm' } as const;

type Blow = keyof typeof HARDER;

/**
 * Somebody at the bench: works the simulated machine by typed lines, as hands would, and the service by its
 * commands. Knows of the vise only what the service says.
 */
export class Hand {
  readonly #url: string;
  readonly #machine: Program;

  constructor(url: string, machine: Program) {
    this.#url = url;
    this.#machine = machine;
  }

  async state(): Promise<BenchState> {
    return (await (await fetch(`${this.#url}api/state`)).json()) as BenchState;
  }

  async command(command: Command): Promise<string> {
    const response = await fetch(`${this.#url}api/command`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(command),
    });
    const answer = (await response.json()) as Answer;
    if (!answer.ok) throw new Error(`${command.kind}: ${answer.fault.what} ${answer.fault.got}`);
    return answer.note;
  }

  async seen(what: string, isSo: (state: BenchState) => boolean): Promise<BenchState> {
    const endMs = Date.now() + SEEN_WITHIN_MS;
    for (;;) {
      const state = await this.state();
      if (isSo(state)) return state;
      if (Date.now() > endMs) {
        throw new Error(`not seen: ${what}; the links: ${JSON.stringify(state.links)}`);
      }
      await wait(LOOK_EVERY_MS);
    }
  }

  /** Both devices are in one of these states. */
  links(...states: LinkState[]): Promise<BenchState> {
    return this.seen(
      `both links ${states.join(' or ')}`,
      ({ links }) => states.includes(links.indicator.state) && states.includes(links.readout.state),
    );
  }

  /** Types a line at the machine and waits until its table stands. */
  async machine(line: string): Promise<string> {
    const answer = await this.#machine.type(line);
    let lastMm: number | null = null;
    let sinceMs = Date.now();
    await this.seen('the table standing still', ({ live }) => {
      const nowMm = live.readout?.valueMm ?? null;
      if (nowMm !== lastMm) sinceMs = Date.now();
      lastMm = nowMm;
      return nowMm !== null && Date.now() - sinceMs >= STANDS_STILL_MS;
    });
    return answer;
  }

  /** Sign, unit, counting direction and both ends, as before a first sweep. */
  async settleSenses(barMm: number): Promise<void> {
    await this.machine('park 0mm');
    await this.command({ kind: 'begin nudge', nudge: 'y' });
    await this.machine('saddle 0.127mm');
    await this.command({ kind: 'finish nudge', nudge: 'y', movedMm: 0.127 });
    await this.machine('saddle -0.127mm');
    await this.command({ kind: 'mark end', end: 'left' });
    await this.command({ kind: 'begin nudge', nudge: 'x' });
    await this.machine('park 20mm');
    await this.command({ kind: 'finish nudge', nudge: 'x' });
    await this.machine(`park ${barMm}mm`);
    await this.command({ kind: 'mark end', end: 'right' });
  }

  async tighten(stage: Stage): Promise<void> {
    await this.#machine.type(`stage ${stage}`);
    await this.command({ kind: 'set stage', stage });
  }

  /** One traverse from left to right; `half way` is called with the stylus in the middle of the bar. */
  async sweep(barMm: number, halfWay: () => Promise<void> = async () => {}): Promise<SweepResult> {
    await this.machine('park 0mm');
    await this.command({ kind: 'begin sweep' });
    await this.machine(`park ${barMm / 2}mm`);
    await halfWay();
    await this.machine(`park ${barMm}mm`);
    await this.command({ kind: 'end sweep' });
    const { sweep } = await this.state();
    expect(sweep?.state).toBe('ended');
    if (!sweep?.result) throw new Error(`no line: ${sweep?.noResultYet}`);
    return sweep.result;
  }

  /** Stylus parked at the right end, mallet at the right cheek, until the service says stop. */
  async tapUntilStop(barMm: number): Promise<TapSection> {
    await this.machine(`park ${barMm}mm`);
    await this.command({ kind: 'park', xMm: barMm });
    let blow: Blow = 'light';
    for (let count = 0; count < MOST_BLOWS; count += 1) {
      const { tap } = await this.state();
      if (!tap || tap.remainingAtMalletMm === null) throw new Error(`no tap: ${tap?.sentence}`);
      if (tap.standing === 'stop') break;
      const leftMm = tap.remainingAtMalletMm;
      const idle = tap.steps.at(-1)?.effect === 'nothing moved' || tap.steps.length < count;
      const usual: Blow =
        Math.abs(leftMm) > 0.15 ? 'firm' : Math.abs(leftMm) > 0.05 ? 'medium' : 'light';
      blow = idle ? HARDER[blow] : usual;
      await this.#machine.type(`tap right ${leftMm > 0 ? 'away' : 'toward'} ${blow}`);
      await wait(SETTLED_MS);
    }
    const { tap } = await this.state();
    await this.command({ kind: 'leave tap' });
    return tap!;
  }
}
