import type { Answer, Command, JobFile, PortDescription, Role } from '@taptrue/protocol';
import type { PlanRoom } from '../plan-room.ts';
import type { ProofRoom } from '../proof-room.ts';
import type { RecordingsRoom } from '../recordings-room.ts';
import type { ReplayRoom } from '../replay-room.ts';
import type { ShapesRoom } from '../shapes-room.ts';
import type { Hub } from '../stream/hub.ts';
import type { SectionStore } from '../stream/section-store.ts';
import type { Access } from './access.ts';

/** What the routes need of the service; nothing else of it is visible to them. */
export interface BenchDoor {
  readonly store: SectionStore;
  readonly hub: Hub;
  readonly access: Access;
  /** Hosts this bench answers to. */
  readonly hosts: ReadonlySet<string>;
  now(): number;
  command(command: Command, role: Role): Promise<Answer>;
  /** Jobs and the setup sheet, for download and print. */
  readonly plans: Pick<PlanRoom, 'job' | 'sheet'> & {
    readonly desk: { readonly jobFile: JobFile };
  };
  ports(): Promise<PortDescription[]>;
  /** Line shapes that can be named here, for a list, a download, and to teach new ones. */
  readonly shapes: Pick<ShapesRoom, 'list' | 'file' | 'lastBytes'>;
  /** Records told again, apart from the bench. */
  readonly replays: Pick<ReplayRoom, 'open' | 'get' | 'overview' | 'warm'>;
  /** The kept jobs. */
  readonly proof: Pick<ProofRoom, 'jobs' | 'job' | 'comparison' | 'names' | 'drift' | 'learned'>;
  /** Kept jobs to be given out, printed, and taken in. */
  readonly recordings: Pick<RecordingsRoom, 'recording' | 'points' | 'sheet' | 'takeIn'>;
  health(): Record<string, number | string>;
}
