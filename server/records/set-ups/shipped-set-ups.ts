import type { SetUp } from '../../set-ups/set-up.ts';
import { loadSetUps } from './load-set-ups.ts';

/** Read once when the module is: a bench is told again without waiting for a folder. */
export const shippedSetUps: readonly SetUp[] = await loadSetUps();
