/** Measuring: what each code means and what to do, as a table is printed from it. */
export const MEASURING_FAULTS = {
  'no-fresh-reading':
    'The last reading is too old, or the device says hold or over range. Nothing was taken.',
  'keyed-not-read': 'What was typed is not a number by the rule of the box. Nothing was taken.',
  'keyed-too-fine':
    "Typed with more decimals than thousandths, microns or divisions ever have: most likely a length, often a lead's. Nothing was taken. Type it by the rule, or say that a lead typed it.",
  'keyed-doubted':
    'Off the reading before it as by another unit (1000 times, 25.4 times), or a length without its decimal mark. Nothing was taken. Look at the dial; key it again, or take it all the same.',
  'lead-unit-not-set':
    'A lead typed where hands type thousandths or divisions. Say whether its display shows inches or millimetres, and press its key again.',
  'lead-unit-differs':
    'The lead sent another unit than was said. Switch the indicator back and check its zero.',
  'nothing-typed': 'Readings are typed in, and the box was empty.',
  'nudge-not-begun': 'Begin the nudge before the move.',
  'nudge-no-move': 'Give the distance the saddle was moved.',
  'nudge-unit-confused':
    'The nudge showed 25.4 times, or a 25.4th of, what the saddle was moved: set the unit that the dial shows and nudge again.',
  'nudge-not-seen':
    'The needle or the count did not follow: stylus off the work, on hold, backlash, other axis.',
  'counting-not-known': 'Which way the readout counts is not settled: X nudge, or mark both ends.',
  'ends-too-close': 'Both ends were marked at one place.',
  'sweep-being-taken': 'End or abandon the sweep first.',
  'no-sweep': 'Begin a sweep first.',
  'nothing-to-take-back': 'No station has been taken yet.',
  'feed-mark-refused': 'The feed runs already, or has not been started.',
  'too-few-points': 'Fewer than two places: no line.',
  'not-enough-travel': 'All readings at one place: no line.',
  'not-a-number': 'A position or reading is not a number.',
  'nothing-to-tap-by': 'Sweep before tapping.',
  'no-line-to-tap-by':
    'The needle was held or at its stop, the position jumped, or a unit was switched in the last sweep: sweep again before parking.',
  'sweep-void':
    'Axis, target, limit, rule, stylus, sense or bar were changed since the last sweep: it holds for what it was measured under only. Sweep again.',
  'beyond-the-bar':
    'The stylus is said to stand where nothing was swept. Park on the bar, or mark its ends anew.',
  'sweep-first':
    'The vise was tapped since the last sweep, and the clamps or the zero moved since: sweep again before parking.',
  'not-parked': 'Park the stylus first.',
  'sense-not-known': 'Whether the reading rises toward or away from you is not known: Y nudge.',
  'parked-near-pivot':
    'Too near the turning point the needle hardly moves: park nearer the tapped end.',
  'mallet-at-pivot': 'There no blow turns the vise.',
  'no-turn-asked': 'The question was answered already, or a newer sweep took its place.',
  'parked-elsewhere':
    'The place that was chosen is not where the live readout says the stylus stands. Move the table there, or park where it stands.',
  'moved-while-parked':
    'The table moved while the stylus was parked, so what the needle did then was no tap. Park again.',
  'same-place-twice':
    'A station was taken already at this place. Move on to the next one, then press.',
  'pressed-twice':
    'The second press came within 0.3 s of the first and was dropped: one press, one station.',
  'same-reading-soon':
    'A press soon after the last, on an unchanged reading: press again if the table was moved.',
} as const;
