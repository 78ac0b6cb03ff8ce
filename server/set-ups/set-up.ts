/** What puts a thing right. `none`: it is said, and nothing is moved. */
export type CorrectionKind = 'tap' | 'shim' | 'set over' | 'swing' | 'tilt' | 'shift' | 'none';

/** What a set-up may ask beside the readings: the option of the command line that says it. */
export type Asked =
  | 'foot-spacing'
  | 'from-headstock'
  | 'target-slope'
  | 'taper-per-foot'
  | 'half-angle'
  | 'set-angle'
  | 'set-uncertainty'
  | 'wanted-angle'
  | 'stack'
  | 'turned'
  | 'pivot'
  | 'mallet'
  | 'face'
  | 'turns'
  | 'jaw-one';

export interface Question {
  option: Asked;
  /** Without it there is no answer: refused. */
  needed: boolean;
  words: string;
}

/** One way of putting right. `say` is the sentence; {amount} stands for how much. */
export interface Way {
  direction: string;
  where: string;
  say: string;
}

/** The two ways a correction can go: what must move goes the plus way, or the minus way. */
export interface Ways {
  plus: Way;
  minus: Way;
}

/**
 * A correction of a line. The surface at the plus end of the line (right, far, top, tailstock) must move
 * by (t - b) times a length against the other end: plus where that is positive. Across positive away from
 * the operator, along Y positive to the left; heights positive up.
 */
export interface LineCorrection {
  kind: CorrectionKind;
  /** Length that the slope is multiplied by: the swept one, or one that was asked. */
  over: 'swept' | 'foot-spacing' | 'from-headstock';
  x: Ways;
  /** null: this set-up is not swept along Y. */
  y: Ways | null;
}

/** One plane of a line: which way the indicator looks, and what puts that right. */
export interface LinePlane {
  name: string;
  /** Across: away from the operator is plus. Height: up is plus. */
  senses: 'across' | 'height';
  /** The first whose length is known is used. */
  corrects: readonly LineCorrection[];
  cautions: readonly string[];
}

/** A part of a correction round a circle: the component of the move toward `towardDeg`. */
export interface CirclePart {
  name: string;
  /** Counter-clockwise from +X, or from jaw one where the set-up has jaws. */
  towardDeg: number;
  ways: Ways;
}

export interface CircleRow {
  /** The reading is of a face along the axis, or of a wall round it (bore or boss, asked). */
  reads: 'face along the axis' | 'wall round the axis';
  corrects: CorrectionKind;
  /** Move per amplitude: 2 over the diameter of a sweep, 1 for a centre. */
  perAmplitude: 1 | 2;
  hasJaws: boolean;
  /** Taken, and said, where the face is not given; null: nothing is told to move without it. */
  usualFace: 'bore' | 'boss' | null;
  parts: readonly CirclePart[];
  /** What waves that are left usually are, by their number a turn. */
  lobeWords: Readonly<Record<number, string>>;
}

export interface UsualLimit {
  mm: number;
  /** null: over the swept length or the diameter of the sweep. */
  overMm: number | null;
  source: string;
}

interface SetUpWords {
  /** As it is written on the command line. */
  name: string;
  title: string;
  /** Strokes on 120 by 80, seen as the user stands; an SVG path of absolute and relative M L H V A Z. */
  picture: string;
  /** What the stylus touches. */
  swept: string;
  /** What moves, and which way counts as plus. */
  travel: string;
  asks: readonly Question[];
  usualLimit: UsualLimit;
  /** Always said with the result. */
  cautions: readonly string[];
  /** Figures beside the line that this set-up is taken for. */
  reports: readonly ('taper on the diameter' | 'part angle')[];
}

/** A set-up is a described row, not a branch through the code. */
export type LineSetUp = SetUpWords & {
  fit: 'line';
  axes: readonly ('x' | 'y')[];
  planes: readonly [LinePlane, ...LinePlane[]];
};
export type CircleSetUp = SetUpWords & { fit: 'circle'; circle: CircleRow };
export type SetUp = LineSetUp | CircleSetUp;

/** The correction of one set-up, as figures and as a sentence. */
export interface Correction {
  kind: CorrectionKind;
  /** Never negative; `direction` and `where` say what goes which way. */
  amountMm: number;
  direction: string | null;
  where: string | null;
  /** What to do, in the display unit. */
  words: string;
}

/** Looks a list over: names are unlike each other, and each row has what its fit needs. Empty: all well. */
export function faultsOfSetUps(rows: readonly SetUp[]): string[] {
  const faults: string[] = [];
  rows.forEach((row, index) => {
    const twin = rows.findIndex((other) => other.name === row.name);
    if (twin < index) faults.push(`${row.name}: two set-ups have this name.`);
    if (!/^[a-z][a-z0-9-]*$/.test(row.name)) {
      faults.push(`"${row.name}": a name is written in small letters, digits and hyphens.`);
    }
    if (!/^[MLHVAZmlhvaz0-9 .,-]+$/.test(row.picture)) {
      faults.push(`${row.name}: the picture is a path of strokes.`);
    }
    if (!(row.usualLimit.mm > 0) || row.usualLimit.source === '') {
      faults.push(`${row.name}: the usual limit needs a length and its source.`);
    }
    if (row.fit === 'circle' && row.circle.parts.length !== 2) {
      faults.push(`${row.name}: a circle is put right in two directions.`);
    }
  });
  return faults;
}
