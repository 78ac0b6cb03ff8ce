import { faultLine, type ImportedRecording } from '@taptrue/protocol';

/** What became of one recording of a file, as a sentence. */
export function importedWords(one: ImportedRecording): string {
  const job = one.number === null ? 'A recording' : `Job ${one.number} of bench “${one.bench}”`;
  if (one.fault) return `${job} is refused. ${faultLine(one.fault)}`;
  const otherwise =
    one.differences === 0
      ? ''
      : ` Another version recorded it; ${one.differences} results come out otherwise now.`;
  switch (one.outcome) {
    case 'taken in':
      return `${job} is taken in, ${one.entries} entries.${otherwise}`;
    case 'gone on with':
      return `${job} was here in part; the rest is taken in.${otherwise}`;
    case 'here already':
      return `${job} is here already, the same to the last digit.`;
    case 'refused':
      return `${job} is refused.`;
  }
}

/** Who signs as what, in the order a shop asks for them. */
export const SIGNER_ROLES = [
  { role: 'set by', label: 'I set it' },
  { role: 'checked by', label: 'I checked it' },
  { role: 'instructor', label: 'I teach here' },
] as const;
