import type { Answer, Command, Role } from '@taptrue/protocol';
import { refused } from '../../state/answers.ts';
import { benchScreenOnly, tabletNotKnown } from '../service-refusals.ts';
import type { Access } from './access.ts';

type TabletCommand = Extract<Command, { kind: 'new pairing code' | 'revoke tablet' }>;

/** Who may command from elsewhere is decided on the bench screen. `cutTablets` ends the streams of paired ones. */
export function manageTablets(
  command: TabletCommand,
  role: Role,
  access: Access,
  cutTablets: () => void,
): Answer {
  if (role !== 'bench screen') return refused(benchScreenOnly());
  if (command.kind === 'new pairing code') {
    access.renewCode();
    return { ok: true, note: 'The old code no longer pairs.' };
  }
  if (!access.revoke(command.id)) return refused(tabletNotKnown(command.id));
  // Their pages connect again at once and are told that they may only watch.
  cutTablets();
  return { ok: true, note: 'The tablet may only watch from now on.' };
}
