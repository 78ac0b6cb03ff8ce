import type { AccessSection, BenchState, Change, Hello, Role } from '@taptrue/protocol';
import type { Connection } from '../connection/live-socket.ts';

/** What a screen is drawn from, as of one frame. */
export interface Screen {
  state: BenchState;
  role: Role;
  access: AccessSection | null;
  connection: Connection;
  mayCommand: boolean;
  /** Why commands are off; empty when they are not. */
  whyNot: string;
}

/**
 * The last thing the service said about each section. A new value overwrites the old one, nothing is ever
 * queued: a tab hidden for an hour holds one state and shows it at its first frame.
 */
export class LatestState {
  state: BenchState | null = null;
  role: Role = 'watcher';
  access: AccessSection | null = null;
  connection: Connection = { kind: 'connecting' };
  sequence = 0;
  /** States the service skipped for this screen, because it painted too slowly. */
  skipped = 0;
  /** When the needle's section was last received, on the page's monotonic clock. */
  liveReceivedAtMs = 0;
  /** Rises with every change but those of the needle alone, which has its own painters. */
  revision = 0;

  acceptHello(hello: Hello, nowMs: number): void {
    this.state = hello.state;
    this.role = hello.role;
    this.access = hello.access;
    this.sequence = hello.sequence;
    this.liveReceivedAtMs = nowMs;
    this.revision += 1;
  }

  acceptChange(change: Change, nowMs: number): void {
    if (this.state === null) return;
    this.state = { ...this.state, ...change.state };
    if (change.access !== undefined) this.access = change.access;
    this.sequence = change.sequence;
    this.skipped += change.skipped;
    if (change.state.live !== undefined) this.liveReceivedAtMs = nowMs;
    const needleOnly =
      change.access === undefined && Object.keys(change.state).every((name) => name === 'live');
    if (!needleOnly) this.revision += 1;
  }

  setConnection(connection: Connection): void {
    this.connection = connection;
    this.revision += 1;
  }

  /** null until the service has said hello once. */
  screen(): Screen | null {
    if (this.state === null) return null;
    const whyNot = whyNoCommands(this.connection, this.role, this.state.replay !== null);
    return {
      state: this.state,
      role: this.role,
      access: this.access,
      connection: this.connection,
      mayCommand: whyNot === '',
      whyNot,
    };
  }
}

function whyNoCommands(connection: Connection, role: Role, isReplay: boolean): string {
  if (connection.kind !== 'connected') return 'The service is not connected.';
  if (isReplay) return 'This is a replay: nothing is measured here.';
  if (role === 'watcher') return 'This screen only watches: it is not paired with the bench.';
  return '';
}
