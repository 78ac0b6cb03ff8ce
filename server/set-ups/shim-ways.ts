import type { LineCorrection } from './set-up.ts';

/** A shim under the foot that lies low: slope times the distance of the feet. */
export const SHIM_UNDER_FOOT: LineCorrection = {
  kind: 'shim',
  over: 'foot-spacing',
  x: {
    plus: { direction: 'up', where: 'right foot', say: 'Shim {amount} under the right foot.' },
    minus: { direction: 'up', where: 'left foot', say: 'Shim {amount} under the left foot.' },
  },
  y: {
    plus: { direction: 'up', where: 'far foot', say: 'Shim {amount} under the far foot.' },
    minus: { direction: 'up', where: 'near foot', say: 'Shim {amount} under the near foot.' },
  },
};
