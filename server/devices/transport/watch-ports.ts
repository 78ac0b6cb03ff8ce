import { constants } from 'node:fs';
import { access } from 'node:fs/promises';
import type { Fault, PortDescription } from '@taptrue/protocol';
import { type Clock, OneTimer } from './clock.ts';
import { explainPortError } from './explain-port-error.ts';
import { findPorts } from './find-ports.ts';
import { portFacts } from './port-facts.ts';
import { portSignature } from './port-signature.ts';

/** Plugging in is to be seen before the hand has left the plug: promised within 2 s. */
export const LOOK_EVERY_MS = 1000;

export interface WatchedPort extends PortDescription {
  /** Why it could not be opened if it were asked for now; null: nothing is known against it. */
  hindrance: Fault | null;
}

export interface PortWatchOptions {
  clock: Clock;
  onChange(ports: readonly WatchedPort[]): void;
  find?: () => Promise<PortDescription[]>;
  /** Changes when a device comes or goes; null: not known, ask for the list. */
  signature?: () => Promise<string | null>;
  hindrance?: (path: string) => Promise<Fault | null>;
}

/**
 * Sees devices come and go. Looks once a second at what changes with them, and asks for the whole list only
 * then; where the system has no such sign the list itself is asked for. One look at a time: a slow system is
 * asked less often, never twice at once.
 */
export class PortWatch {
  readonly #options: Required<PortWatchOptions>;
  readonly #timer: OneTimer;
  #ports: readonly WatchedPort[] = [];
  #told = '';
  #signature: string | null = null;
  /** Something changed at the last look: names and rights may still be on their way. */
  #isSettling = false;
  #looking: Promise<void> | null = null;
  #stopped = true;

  constructor(options: PortWatchOptions) {
    this.#options = {
      find: () => findPorts(),
      signature: () => portSignature(process.platform),
      hindrance: hindranceOf,
      ...options,
    };
    this.#timer = new OneTimer(options.clock);
  }

  get ports(): readonly WatchedPort[] {
    return this.#ports;
  }

  start(): Promise<void> {
    if (!this.#stopped) return Promise.resolve();
    this.#stopped = false;
    return this.#look();
  }

  /** For someone who names a port just plugged in: does not wait for the next second. */
  lookNow(): Promise<void> {
    if (this.#stopped) return Promise.resolve();
    this.#timer.clear();
    return this.#looking ?? this.#look();
  }

  stop(): void {
    this.#stopped = true;
    this.#timer.clear();
  }

  #look(): Promise<void> {
    this.#looking = this.#lookAndSetTimer().finally(() => {
      this.#looking = null;
    });
    return this.#looking;
  }

  async #lookAndSetTimer(): Promise<void> {
    try {
      await this.#lookOnce();
    } catch {
      // A list that cannot be had once is asked for again; until then the last one stands.
      this.#signature = null;
    }
    if (!this.#stopped) this.#timer.set(LOOK_EVERY_MS, () => void this.#look());
  }

  async #lookOnce(): Promise<void> {
    const { signature, find, hindrance, onChange } = this.#options;
    const now = await signature();
    const isSame = now !== null && now === this.#signature;
    if (isSame && !this.#isSettling) return;
    this.#isSettling = !isSame;
    const found = await find();
    const ports = await Promise.all(
      found.map(async (port) => ({ ...port, hindrance: await hindrance(port.path) })),
    );
    this.#signature = now;
    const told = JSON.stringify(ports);
    if (told === this.#told || this.#stopped) return;
    this.#told = told;
    this.#ports = ports;
    onChange(ports);
  }
}

/** Why this port could not be opened now; null: nothing is known. Asks for the right to open it, without opening it: that alone would pull lines of the device. */
export async function hindranceOf(path: string): Promise<Fault | null> {
  if (process.platform === 'win32') return null;
  try {
    await access(path, constants.R_OK | constants.W_OK);
    return null;
  } catch (error) {
    return explainPortError(error, {
      title: path,
      system: process.platform,
      facts: await portFacts(path),
    });
  }
}
