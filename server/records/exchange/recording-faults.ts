import type { Fault } from '@taptrue/protocol';

/** Why a recording is refused, with the line of the file it was noticed in. */
export class RecordingRefused extends Error {
  readonly fault: Fault;
  readonly line: number | null;

  constructor(line: number | null, { code, what, got, remedy }: Fault) {
    super(what);
    this.line = line;
    this.fault = { code, what: line === null ? what : `Line ${line}: ${what}`, got, remedy };
  }
}

/** As much of a line as fits a sentence; control characters are shown, not obeyed. */
export function quoted(text: string, most = 80): string {
  const shown = JSON.stringify(text.slice(0, most)).slice(1, -1);
  return text.length > most ? `${shown} …` : shown;
}

const FROM_WHERE_IT_CAME = 'Take the file again from where it was given out.';

export const fileNotRead = (path: string, why: string): Fault => ({
  code: 'recording-not-read',
  what: 'The file could not be read.',
  got: `${why} at ${path}`,
  remedy: 'Check the name, the disk and the right to read it.',
});

export const fileEmpty = (): Fault => ({
  code: 'recording-not-ours',
  what: 'The file holds no recording.',
  got: 'an empty file',
  remedy: FROM_WHERE_IT_CAME,
});

export const notOurs = (got: string): Fault => ({
  code: 'recording-not-ours',
  what: 'this is not the first line of a recording.',
  got,
  remedy:
    'Give a file made with taptrue export, unchanged. A table of positions and readings is read with taptrue fit.',
});

export const newerFormat = (got: string): Fault => ({
  code: 'recording-newer',
  what: 'a newer program wrote this recording in a format that is not known here.',
  got: `format version ${got}`,
  remedy: 'Use a newer Taptrue, or have the recording given out by one of this version.',
});

export const cutOff = (lines: number): Fault => ({
  code: 'recording-cut-off',
  what: 'the recording has no end line: the rest of the file is missing.',
  got: `${lines} lines`,
  remedy: `${FROM_WHERE_IT_CAME} Compare the sizes of both files.`,
});

export const damaged = (got: string): Fault => ({
  code: 'recording-damaged',
  what: 'what comes before does not fit its end line: the file was changed or damaged.',
  got,
  remedy: `${FROM_WHERE_IT_CAME} If it is damaged there as well, a backup may help.`,
});

export const lineNotRead = (got: string): Fault => ({
  code: 'recording-line-not-read',
  what: 'this is not a line of JSON in UTF-8.',
  got,
  remedy: `The file is damaged or was edited. ${FROM_WHERE_IT_CAME}`,
});

export const lineTooLong = (most: number): Fault => ({
  code: 'recording-line-too-long',
  what: 'the line is longer than any line of a recording can be.',
  got: `more than ${most} characters`,
  remedy: 'This is another kind of file, or it lost its line ends on the way. Copy it unchanged.',
});

export const lineNotKnown = (why: string): Fault => ({
  code: 'recording-line-not-known',
  what: 'the entry does not fit the format.',
  got: why,
  remedy: `The file is damaged, was edited, or comes from another version. ${FROM_WHERE_IT_CAME}`,
});

export const lineOtherwise = (got: string): Fault => ({
  code: 'recording-line-otherwise',
  what: 'the line is not written as this program writes it: a name twice, a space, a number in another form, or another line end.',
  got,
  remedy: 'Text editors and mail programs do that. Copy the file as it is, or pack it first.',
});

export const outOfPlace = (got: string): Fault => ({
  code: 'recording-out-of-place',
  what: 'the entry cannot stand here.',
  got,
  remedy: `Lines are missing or were moved. ${FROM_WHERE_IT_CAME}`,
});

export const outOfOrder = (got: string): Fault => ({
  code: 'recording-out-of-order',
  what: 'the clock of the recording goes back.',
  got,
  remedy: `Lines were moved. ${FROM_WHERE_IT_CAME}`,
});

export const notRecomputed = (got: string): Fault => ({
  code: 'recording-not-recomputed',
  what: 'what is recorded does not come out of its own readings.',
  got,
  remedy:
    'taptrue replay FILE shows both. Do not trust the recorded figures; sweep again where that is possible.',
});

export const signatureNotTrue = (got: string): Fault => ({
  code: 'signature-not-true',
  what: 'the fingerprint of the signature does not fit the lines before it.',
  got,
  remedy: 'The record was changed after it was signed, or the signature was. Do not trust it.',
});

export const otherJobHere = (here: string, file: string): Fault => ({
  code: 'recording-other-here',
  what: 'a job of this key is kept here with another content.',
  got: `here ${here}, in the file ${file}`,
  remedy: 'Keep both: import the file into a bench of its own with --name, and compare the two.',
});

export const tooLarge = (mostMb: number): Fault => ({
  code: 'recording-too-large',
  what: 'The file is too large to be sent through the page.',
  got: `more than ${mostMb} MB`,
  remedy: 'Import it with taptrue import FILE on the computer of the bench.',
});

export const jobNotKept = (got: string): Fault => ({
  code: 'job-not-kept',
  what: 'There is no such job in the record.',
  got,
  remedy: 'taptrue export lists the jobs that are kept.',
});

export const sweepNotKept = (got: string): Fault => ({
  code: 'sweep-not-kept',
  what: 'There is no such sweep in this job.',
  got,
  remedy: 'The job’s list under Proof, or taptrue export, names its sweeps.',
});
