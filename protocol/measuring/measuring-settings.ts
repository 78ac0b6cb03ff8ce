import Type from 'typebox';
import { closed, Nullable } from '../check/schema-parts.ts';
import {
  errorMm,
  FARTHEST_MM,
  LEAST_FACTOR,
  LEAST_MM,
  LEAST_RAD,
  lengthMm,
  MOST_FACTOR,
  MOST_FEED_MM_PER_MIN,
  MOST_INDICATED_MM,
  MOST_LIMIT_RAD,
  placeMm,
} from '../quantity/bounds.ts';
import { LengthUnit, radiansFromArcsec } from '../quantity/units.ts';

export const Way = Type.Union(
  [Type.Literal('stations'), Type.Literal('readout'), Type.Literal('feed')],
  {
    description:
      'How positions are known: stations the user stands at, a position readout, or constant feed between two marks',
  },
);
export type Way = Type.Static<typeof Way>;

export const Rises = Type.Union([Type.Literal('toward'), Type.Literal('away')], {
  description:
    'The reading rises as the surface comes toward the operator, or as it goes away (toward the column)',
});
export type Rises = Type.Static<typeof Rises>;

export const Stage = Type.Union([
  Type.Literal('free'),
  Type.Literal('nipped'),
  Type.Literal('snug'),
  Type.Literal('tight'),
]);
export type Stage = Type.Static<typeof Stage>;
export const STAGES: readonly Stage[] = ['free', 'nipped', 'snug', 'tight'];

export const End = Type.Union([Type.Literal('left'), Type.Literal('right')]);
export type End = Type.Static<typeof End>;

export const Limit = Type.Union(
  [
    Type.Object(
      {
        kind: Type.Literal('end to end'),
        mm: lengthMm(MOST_INDICATED_MM),
        overMm: Nullable(lengthMm()),
      },
      closed,
    ),
    Type.Object(
      {
        kind: Type.Literal('angle'),
        rad: Type.Number({ minimum: LEAST_RAD, maximum: MOST_LIMIT_RAD }),
      },
      closed,
    ),
  ],
  {
    description:
      'How far out of true is allowed, either way. overMm null means over the swept length',
  },
);
export type Limit = Type.Static<typeof Limit>;

export const DecisionRule = Type.Union([Type.Literal('guarded'), Type.Literal('plain')], {
  description:
    'guarded: the limit is guarded by t(0.95, ν) u; plain: the figure is compared as it is',
});
export type DecisionRule = Type.Static<typeof DecisionRule>;

export const Stylus = Type.Union(
  [
    Type.Object({ kind: Type.Literal('as read') }, closed),
    Type.Object(
      {
        kind: Type.Literal('nudge factor'),
        factor: Type.Number({ minimum: LEAST_FACTOR, maximum: MOST_FACTOR }),
      },
      closed,
    ),
    Type.Object(
      { kind: Type.Literal('stylus angle'), rad: Type.Number({ minimum: 0, maximum: 1.4 }) },
      closed,
    ),
  ],
  {
    description:
      'True travel per shown travel: 1, the factor found by the Y nudge, or the cosine of the stylus angle',
  },
);
export type Stylus = Type.Static<typeof Stylus>;

export const KeyedAs = Type.Union(
  [
    Type.Object({ kind: Type.Literal('length'), unit: LengthUnit }, closed),
    Type.Object({ kind: Type.Literal('thousandths'), unit: LengthUnit }, closed),
    Type.Object(
      { kind: Type.Literal('divisions'), graduationMm: lengthMm(MOST_INDICATED_MM) },
      closed,
    ),
  ],
  {
    description:
      'What a typed reading means: a length, thousandths of the unit, or divisions of the dial',
  },
);
export type KeyedAs = Type.Static<typeof KeyedAs>;

export const PivotChoice = Type.Union([
  Type.Literal('left clamp'),
  Type.Literal('right clamp'),
  Type.Literal('swivel centre'),
  Type.Literal('typed'),
]);
export type PivotChoice = Type.Static<typeof PivotChoice>;

/** Tapped past true on purpose, because tightening usually turns it back. Taken by the user, for one job. */
export const AimOff = Type.Object(
  {
    stage: Stage,
    arcsec: Type.Number({
      minimum: -3600,
      maximum: 3600,
      description: 'Added to the target of the tap at that stage; positive counter-clockwise',
    }),
    spreadArcsec: Nullable(
      Type.Number({
        minimum: 0,
        maximum: 324_000,
        description: 'Standard deviation of what it was taken from',
      }),
    ),
    jobs: Type.Integer({
      minimum: 0,
      maximum: 1_000_000,
      description: 'How many jobs it was taken from',
    }),
  },
  { ...closed, description: 'It changes where to stop tapping, never the verdict' },
);
export type AimOff = Type.Static<typeof AimOff>;

/** How late each source is heard, so that a reading gets the place it stood at when it was read. */
export const Timing = Type.Object(
  {
    indicatorMs: Type.Number({
      minimum: -2000,
      maximum: 2000,
      description: 'From the touch of the stylus to the arrival of its reading',
    }),
    readoutMs: Type.Number({ minimum: -2000, maximum: 2000 }),
    scanOffsetMs: Type.Number({
      minimum: -2000,
      maximum: 2000,
      description:
        'Channels of one box, read one after another and sent together: how long after the readout’s channel the indicator’s is read',
    }),
    from: Type.Union([Type.Literal('declared'), Type.Literal('measured')]),
  },
  closed,
);
export type Timing = Type.Static<typeof Timing>;

/** How much later than the readout's the indicator's readings of one moment are heard, ms. */
export function lagOf({ timing }: { timing?: Timing }): number {
  return timing ? timing.indicatorMs - timing.readoutMs - timing.scanOffsetMs : 0;
}

/**
 * Everything the user has told the bench. Positions are x in millimetres from the left end of the swept
 * length, positive to the operator's right.
 */
export const Setup = Type.Object(
  {
    displayUnit: LengthUnit,
    way: Way,
    axis: Type.Union([Type.Literal('x'), Type.Literal('y')], {
      description: 'Axis swept along; with y only the words change',
    }),
    sweptLengthMm: lengthMm(5000),
    entry: Type.Union([Type.Literal('device'), Type.Literal('keyed')], {
      description: 'Stations: readings from the device or typed in',
    }),
    keyedAs: KeyedAs,
    leadUnit: Type.Optional(
      Nullable(
        Type.Union([Type.Literal('mm'), Type.Literal('in')], {
          description: 'Unit on the display of an indicator whose lead types its readings',
        }),
      ),
    ),
    stationsMm: Type.Array(placeMm(), {
      minItems: 2,
      maxItems: 25,
      description: 'In the order they are taken',
    }),
    backPass: Type.Boolean({ description: 'Stations and feed: go back over the same positions' }),
    feed: Type.Object(
      {
        startsAt: End,
        distanceMm: lengthMm(),
        mmPerMin: Nullable(Type.Number({ minimum: 0.001, maximum: MOST_FEED_MM_PER_MIN })),
      },
      {
        ...closed,
        description: 'mmPerMin null: the distance is run through between the two marks',
      },
    ),
    rises: Nullable(Rises),
    counts: Nullable(
      Type.Union([Type.Literal(1), Type.Literal(-1)], {
        description: '+1: the readout rises as the stylus goes right along the work',
      }),
    ),
    leftEndCountMm: placeMm('What the readout shows with the stylus at the left end'),
    stylus: Stylus,
    limit: Nullable(Limit),
    decisionRule: DecisionRule,
    targetSlope: Type.Number({
      minimum: -0.2,
      maximum: 0.2,
      description: 'Slope the line is to have, 0 unless the job sets one',
    }),
    indicator: Type.Object(
      {
        resolutionMm: Nullable(lengthMm(MOST_INDICATED_MM)),
        permissibleErrorMm: Nullable(errorMm()),
        repeatabilityMm: Nullable(errorMm()),
        rangeMm: Nullable(Type.Object({ lowMm: placeMm(), highMm: placeMm() }, closed)),
      },
      closed,
    ),
    vise: Type.Object(
      {
        leftEndMm: placeMm(),
        rightEndMm: placeMm(),
        leftClampMm: placeMm(),
        rightClampMm: placeMm(),
        swivelCentreMm: placeMm(),
      },
      closed,
    ),
    pivot: Type.Object(
      {
        choice: PivotChoice,
        typedMm: placeMm(),
        uncertaintyMm: Type.Number({
          minimum: LEAST_MM,
          maximum: FARTHEST_MM,
          description: 'Standard uncertainty of the declared pivot',
        }),
        acrossMm: Nullable(placeMm('Pivot farther away than the bar: positive')),
        learn: Type.Boolean(),
      },
      closed,
    ),
    malletMm: placeMm('Where along the work the mallet strikes'),
    timing: Type.Optional(Timing),
    aimOff: Type.Optional(Nullable(AimOff)),
  },
  closed,
);
export type Setup = Type.Static<typeof Setup>;

/**
 * The unit in which a lead that types is read. Not said: that of typed lengths. Null: readings are typed in
 * thousandths or divisions, which no lead sends, and nobody said what it does send.
 */
export function leadUnitOf({ leadUnit, keyedAs }: Setup): LengthUnit | null {
  return leadUnit ?? (keyedAs.kind === 'length' ? keyedAs.unit : null);
}

/** What a sweep is measured under: changed afterwards, it would say something else than was measured. */
export const MEASURED_UNDER = [
  'axis',
  'targetSlope',
  'limit',
  'decisionRule',
  'stylus',
  'rises',
  'sweptLengthMm',
  'way',
  'stationsMm',
  'backPass',
] as const satisfies readonly (keyof Setup)[];

export const MeasuredUnder = Type.Pick(Setup, [...MEASURED_UNDER], closed);
export type MeasuredUnder = Pick<Setup, (typeof MEASURED_UNDER)[number]>;

/** A changed part of the setup; whole values only, nothing merged below the first level. */
export const SetupChange = Type.Partial(Setup, closed);
export type SetupChange = Type.Static<typeof SetupChange>;

/** Equally spaced stations from `fromMm` to `toMm`, both included. */
export function equalStationsMm(fromMm: number, toMm: number, count: number): number[] {
  return Array.from(
    { length: count },
    (_, index) => fromMm + ((toMm - fromMm) * index) / (count - 1),
  );
}

/** A 5 in bar in a vise of about 6 in: what the bench starts with before anyone has said anything. */
export function firstSetup(): Setup {
  return {
    displayUnit: 'in',
    way: 'stations',
    axis: 'x',
    sweptLengthMm: 127,
    entry: 'keyed',
    keyedAs: { kind: 'length', unit: 'in' },
    stationsMm: equalStationsMm(0, 127, 5),
    backPass: false,
    feed: { startsAt: 'left', distanceMm: 127, mmPerMin: null },
    rises: null,
    counts: null,
    leftEndCountMm: 0,
    stylus: { kind: 'as read' },
    limit: { kind: 'end to end', mm: 0.0254, overMm: null },
    decisionRule: 'guarded',
    targetSlope: 0,
    indicator: {
      resolutionMm: null,
      permissibleErrorMm: null,
      repeatabilityMm: null,
      rangeMm: null,
    },
    vise: {
      leftEndMm: -20,
      rightEndMm: 147,
      leftClampMm: -8,
      rightClampMm: 135,
      swivelCentreMm: 63.5,
    },
    pivot: { choice: 'left clamp', typedMm: 0, uncertaintyMm: 8, acrossMm: null, learn: true },
    malletMm: 147,
  };
}

/** The slope to tap to at this stage: the target, or beside it where the user aims off. */
export function slopeToTapTo(setup: Setup, stage: Stage): number {
  const { aimOff, targetSlope } = setup;
  if (!aimOff || aimOff.stage !== stage) return targetSlope;
  return Math.tan(Math.atan(targetSlope) + radiansFromArcsec(aimOff.arcsec));
}

/** The setup of the next job: aiming off is taken anew for each, never carried on in silence. */
export function nextSetup(setup: Setup): Setup {
  return setup.aimOff ? { ...setup, aimOff: null } : setup;
}

/** Where the declared pivot stands along the work, millimetres. */
export function declaredPivotMm(setup: Setup): number {
  switch (setup.pivot.choice) {
    case 'left clamp':
      return setup.vise.leftClampMm;
    case 'right clamp':
      return setup.vise.rightClampMm;
    case 'swivel centre':
      return setup.vise.swivelCentreMm;
    case 'typed':
      return setup.pivot.typedMm;
  }
}
