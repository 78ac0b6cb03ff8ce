/** Safety cautions, shown where they matter: what each code means and what to do, as a table is printed from it. */
export const SAFETY_FAULTS = {
  'spindle-stopped':
    'The spindle stands still, in neutral or braked, before a hand or an indicator goes near it.',
  'hands-clear': 'Hands are out of the way of the mallet, eyes covered.',
  'loose-do-not-cut': 'The vise is not tight yet: nothing may be cut.',
  'clear-before-cut': 'Indicator, bar and stack out, wrench off, clamps tight, before any cut.',
  'local-rules-first':
    'The rules of the shop and licensed practice come before what is shown here.',
} as const;
