import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';
import { AccessSection, BenchState } from './bench-state.ts';

/** May this screen command the bench, or only watch it? */
export const Role = Type.Union([
  Type.Literal('bench screen'),
  Type.Literal('paired tablet'),
  Type.Literal('watcher'),
]);
export type Role = Type.Static<typeof Role>;

/** First message on every connection. */
export const Hello = Type.Object(
  {
    type: Type.Literal('hello'),
    version: Type.String({ description: 'PROTOCOL_VERSION of the service' }),
    role: Role,
    sequence: Type.Integer({ minimum: 0 }),
    state: BenchState,
    access: Type.Union([AccessSection, Type.Null()]),
  },
  closed,
);
export type Hello = Type.Static<typeof Hello>;

/** The sections that changed since the last message to this screen, whole. */
export const Change = Type.Object(
  {
    type: Type.Literal('change'),
    sequence: Type.Integer({
      minimum: 1,
      description: 'Rises; says which state this is. To be acknowledged once painted',
    }),
    skipped: Type.Integer({
      minimum: 0,
      description: 'States this screen was too slow to be sent since the last message',
    }),
    state: Type.Partial(BenchState, closed),
    access: Type.Optional(AccessSection),
  },
  closed,
);
export type Change = Type.Static<typeof Change>;

/** Nothing changed; the service is alive. Every second. */
export const StillHere = Type.Object(
  { type: Type.Literal('still here'), sequence: Type.Integer({ minimum: 0 }) },
  closed,
);
export type StillHere = Type.Static<typeof StillHere>;

export const ServiceMessage = Type.Union([Hello, Change, StillHere]);
export type ServiceMessage = Type.Static<typeof ServiceMessage>;

/** The only message a page sends: what it has painted last, at most ten a second. */
export const Painted = Type.Object(
  {
    type: Type.Literal('painted'),
    sequence: Type.Integer({ minimum: 0 }),
    visible: Type.Boolean(),
  },
  closed,
);
export type Painted = Type.Static<typeof Painted>;
