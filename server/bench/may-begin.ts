import type { Fault, LinkName, LinkReport, Setup } from '@taptrue/protocol';
import { countingNotKnown, deviceMissing } from './refusals.ts';

/** The devices that this way of working cannot do without. Pure. */
export function linksNeeded({ way, entry }: Setup): LinkName[] {
  if (way === 'readout') return ['indicator', 'readout'];
  return way === 'feed' || entry === 'device' ? ['indicator'] : [];
}

/** Why no sweep can begin by this setup with these devices; null: it can. Pure. */
export function mayNotBegin(setup: Setup, report: (link: LinkName) => LinkReport): Fault | null {
  if (setup.way === 'readout' && setup.counts === null) return countingNotKnown();
  const missing = linksNeeded(setup).find((link) => report(link).config === null);
  return missing ? deviceMissing(missing) : null;
}
