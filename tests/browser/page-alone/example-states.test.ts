import { BenchState, checkerOf } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { EXAMPLE_STATES } from '../example-states.ts';

describe('the example states the page is tried on', () => {
  const check = checkerOf(BenchState);
  for (const [name, make] of Object.entries(EXAMPLE_STATES)) {
    it(`${name} is a state the service could send`, () => {
      const checked = check.check(make());
      expect(checked.ok ? '' : checked.why).toBe('');
    });
  }
});
