/** Where a command line command writes. Taken as an argument so that tests read what a user would. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
}

/** Exit codes, the same for every command. */
export const EXIT = {
  done: 0,
  notTrue: 1,
  /** `find`: no device was recognised. */
  nothingFound: 1,
  tooCloseToCall: 2,
  refused: 3,
  ourFault: 70,
} as const;

/** One command of `taptrue`. `run` resolves to the exit code. */
export interface CliCommand {
  name: string;
  summary: string;
  help: string;
  run(args: string[], terminal: Terminal): Promise<number>;
}

/** Input that is refused: the sentence goes to standard error, the exit code is 3. */
export class Refusal extends Error {
  override name = 'Refusal';
}
