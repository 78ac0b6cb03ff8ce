import type {
  Answer,
  Fault,
  LinkName,
  LinkReport,
  RecordEntry,
  Setup,
  SetupChange,
  Stage,
} from '@taptrue/protocol';
import type { SectionStore } from '../state/section-store.ts';

/** What the desks of a bench share; the bench itself is the only maker of it. */
export interface DeskContext {
  readonly store: SectionStore;
  readonly setup: Setup;
  readonly stage: Stage;
  /** One step of the last digit the device or the typing shows, mm; null: not known. */
  readonly digitMm: number | null;
  readonly isSweeping: boolean;
  report(link: LinkName): LinkReport;
  record(entry: RecordEntry): void;
  /** Refused where it would change the meaning of the sweep being taken. */
  changeSetup(change: SetupChange, nowMs: number): Answer;
  /** Something the user must know, told beside the answer. */
  raise(from: string, fault: Fault, atMs: number): void;
  /** The standing of the job may be another now. */
  standingChanged(): void;
}
