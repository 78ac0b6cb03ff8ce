/** Why what follows now is not what was recorded, in words. */
export function whyDifferent(known: {
  whatIf: readonly string[];
  recordedVersion: string;
  version: string;
  piecesDamaged: number;
}): string {
  const reasons: string[] = [];
  if (known.whatIf.length > 0) reasons.push('the setup is tried otherwise than recorded');
  if (known.recordedVersion !== known.version) {
    reasons.push(
      `it was recorded by version ${known.recordedVersion} and is reckoned again by ${known.version}`,
    );
  }
  if (known.piecesDamaged > 0) {
    const count = known.piecesDamaged === 1 ? 'a piece' : `${known.piecesDamaged} pieces`;
    reasons.push(`${count} of the record could not be read`);
  }
  if (reasons.length === 0) {
    return 'Version and setup are those of the record, so the record was changed or this program is at fault: look through it with taptrue verify.';
  }
  const sentence = reasons.join(', and ');
  return `${sentence[0]!.toUpperCase()}${sentence.slice(1)}.`;
}
