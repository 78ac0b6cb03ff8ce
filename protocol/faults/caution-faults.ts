/** What a line cannot be trusted for: cautions beside a result: what each code means and what to do, as a table is printed from it. */
export const CAUTION_FAULTS = {
  'two-stations': 'Two points always lie on a line; nothing shows a chip or a bow.',
  'three-stations': 'Three barely show scatter; take five or more.',
  bow: 'The points lie on a curve: bent jaw, sprung bar, worn ways.',
  step: 'The points jump: chip under a roll, bar re-seated, mount touched.',
  'lone-bump': 'A bump at one place: chip or burr under the stylus.',
  'outlying-points': 'Single points far off; named, never dropped. Take them again.',
  'open-loop':
    'The start did not repeat on return: loose mount, magnet dragging, bar not on both rolls.',
  'gap-between-directions': 'Out and back differ all along: lag, play, loose gibs.',
  'indicator-at-its-stop': "Readings at the end of the indicator's range: reset the preload.",
  'positions-out-of-order': 'Directions are mixed: take stations one way, or mark the passes.',
  'repeated-positions': 'Some positions occur twice; each reading weighs as a point.',
  'steep-slope': 'Beyond 3°: check units, or set the vise coarsely first.',
  'no-scatter': 'The points lie exactly on a line and no resolution is given: the ± is too small.',
  'uncertainty-not-known': 'Two stations and nothing known of the indicator: too close to call.',
  'plain-comparison': 'The uncertainty was left out of the verdict, as chosen.',
  'coarse-tap': 'A large turn: sweep again after it.',
  'pivot-missing': '`--parked` or `--mallet` without `--pivot`: nothing to reckon a tap from.',
  'resolution-from-digits': 'The resolution was taken from the digits in the file.',
  'column-ignored': 'A column of the file has a name that is not used.',
  'guard-is-one-sided':
    'The ± is two-sided and reaches past the limit, the guard is one-sided: in 95 of 100 such sweeps the line lies inside.',
  'part-of-length':
    'Under nine tenths of the length that limit, marks, stations or plan speak of were swept: nothing is called true. Sweep the whole length.',
  'position-jumped':
    'The readout made a step that no table makes in the time: reset, wrap, lost counts or a wild value. Nothing is tapped by that sweep. Check it and sweep again.',
  'swept-in-a-hurry':
    'Under 2 s from end to end, or faster than 60 mm/s: not called true. Sweep again, slower.',
  'needle-never-moved':
    'One and the same reading over the whole sweep: lift the stylus once and let it come back. Until then it is not called true.',
  'needle-held':
    'Readings in a row stood still where the line says the needle should have moved: it stuck, or the device slept. Sweep again.',
} as const;
