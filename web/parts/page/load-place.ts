import type { Fault } from '@taptrue/protocol';
import type { Place } from './bench-bar.ts';

const PLACE_MODULES: Record<Place, () => Promise<unknown>> = {
  far: () => import('../../places/far/far-place.ts'),
  plan: () => import('../../places/plan/plan-place.ts'),
  sweep: () => import('../../places/sweep/sweep-place.ts'),
  tap: () => import('../../places/tap/tap-place.ts'),
  'set-ups': () => import('../../places/set-ups/set-ups-place.ts'),
  proof: () => import('../../places/proof/proof-place.ts'),
  devices: () => import('../../places/devices/devices-place.ts'),
};

/** The parts of one place, loaded when it is first opened; null once they are there, a fault where they are not. */
export async function loadPlace(place: Place): Promise<Fault | null> {
  try {
    await PLACE_MODULES[place]();
    return null;
  } catch (error) {
    return {
      code: 'place-not-loaded',
      what: 'This part of the page could not be loaded.',
      got: error instanceof Error ? error.message : String(error),
      remedy: 'See whether the service runs, then load the page again.',
    };
  }
}

/** The other places, once the first is drawn: a service that is gone later takes none of them away. */
export async function loadOtherPlaces(shown: Place): Promise<void> {
  for (const place of Object.keys(PLACE_MODULES) as Place[]) {
    if (place !== shown) await loadPlace(place);
  }
}
