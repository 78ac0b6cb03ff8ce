import type { Answer, Command, JobFile, PortDescription, Role } from '@taptrue/protocol';
import type { FormatsController } from '../devices/formats-controller.ts';
import type { PlanController } from '../plan/plan-controller.ts';
import type { ArchiveController } from '../records/archive/archive-controller.ts';
import type { ExchangeController } from '../records/exchange/exchange-controller.ts';
import type { ReplayController } from '../records/replay/replay-controller.ts';
import type { SectionStore } from '../state/section-store.ts';
import type { Hub } from '../stream/hub.ts';
import type { Access } from './access/access.ts';

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
  readonly plans: Pick<PlanController, 'job' | 'sheet'> & {
    readonly desk: { readonly jobFile: JobFile };
  };
  ports(): Promise<PortDescription[]>;
  /** Line shapes that can be named here, for a list, a download, and to teach new ones. */
  readonly shapes: Pick<FormatsController, 'list' | 'file' | 'lastBytes'>;
  /** Records told again, apart from the bench. */
  readonly replays: Pick<ReplayController, 'open' | 'get' | 'overview' | 'warm'>;
  /** The kept jobs. */
  readonly proof: Pick<
    ArchiveController,
    'jobs' | 'job' | 'comparison' | 'names' | 'drift' | 'learned'
  >;
  /** Kept jobs to be given out, printed, and taken in. */
  readonly recordings: Pick<ExchangeController, 'recording' | 'points' | 'sheet' | 'takeIn'>;
  health(): Record<string, number | string>;
}
