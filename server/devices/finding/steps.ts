import type { Fault } from '@taptrue/protocol';
import type { LeadSigns } from '../transport/transport.ts';
import type { Candidate, SeenTrigger } from './candidates.ts';
import type { EighthBit } from './eighth-bit.ts';
import type { Tuning } from './settings-tried.ts';
import type { ShapeHearing } from './shape-hearing.ts';

/** One request, and how its eighth bit is sent while the port is set to eight data bits. */
export interface Sending {
  request: string;
  eighth: EighthBit;
}

/** What the search is about, as it is told. */
export type FindStage = 'listening' | 'asking' | 'waiting for its key' | 'making sure';

/** Listen with these settings; sends nothing unless `sendings` say so. */
export interface ListenStep {
  kind: 'listen';
  stage: FindStage;
  tuning: Tuning;
  /** Meanings of the eighth bit that are listened for. */
  eighths: readonly EighthBit[];
  forMs: number;
  /** Goes on until then where what came so far may become a reading. */
  longestMs: number;
  /** Ends when bytes came and then nothing for this long; null: does not. A key sends one line a press. */
  endsWhenQuietMs: number | null;
  sendings: readonly Sending[];
  sendEveryMs: number;
  /** What is left of this stage after this step, for "seconds left". */
  thenLeftMs: number;
}

/** Show the candidate's readings and ask whether the device shows the same. */
export interface QuestionStep {
  kind: 'question';
  tuning: Tuning;
  candidate: Candidate;
  seen: SeenTrigger;
  /** True: with both control lines up it was heard to be silent. */
  silentOtherwise: boolean;
  /** Counts from 0 in `all`, likeliest first. */
  index: number;
  all: readonly Candidate[];
}

export type FindStep = ListenStep | QuestionStep;

export interface Heard {
  kind: 'heard';
  /** too much: more bytes a second than any device sends. */
  ended: 'recognised' | 'time' | 'too much' | 'failed';
  fault: Fault | null;
  hearing: ShapeHearing;
  tookMs: number;
  /** The request after which the first bytes came; null: none was sent before them. */
  answeredTo: string | null;
  /** What the port told of its lead in this time; null: it ended before that, or the port said nothing. */
  lead: LeadSigns | null;
  /** All that came was what had been sent. */
  onlyEcho: boolean;
}

export type FindAnswer = { kind: 'answer'; same: boolean } | { kind: 'failed'; fault: Fault };

export type StepResult = Heard | FindAnswer;
