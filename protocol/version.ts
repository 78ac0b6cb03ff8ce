/**
 * Version of everything that crosses a boundary: stream messages, commands, recordings.
 * The first number changes when an older reader would misunderstand a newer writer; the second
 * when something was added that an older reader may ignore, or when any result changes in its last digit:
 * a recording of the same version must come out bit for bit.
 */
export const PROTOCOL_VERSION = '1.2';

/** True if a peer that says `version` can be understood by this code (same first number). */
export function speaksOurVersion(version: string): boolean {
  return version.split('.')[0] === PROTOCOL_VERSION.split('.')[0];
}
