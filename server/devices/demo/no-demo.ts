import type { Fault } from '@taptrue/protocol';

export function noDemo(): Fault {
  return {
    code: 'no-demo',
    what: 'This service works real devices; it has no simulated bench.',
    got: '',
    remedy: 'Start it with --demo for the simulated one.',
  };
}
