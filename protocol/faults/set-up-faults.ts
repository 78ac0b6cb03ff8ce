/** Set-ups other than the vise: what each code means and what to do, as a table is printed from it. */
export const SET_UP_FAULTS = {
  'too-few-places-round': 'Fewer than three places round the circle: read at more.',
  'places-in-one-half': 'All places lie in one half of the circle: read in the other half too.',
  'few-places-round': 'Fewer than seven places: a figure, no verdict.',
  'wide-gap-round': 'More than a third of the turn was not read: a figure, no verdict.',
  'lobes-read-as-off-centre': 'So few even places read lobes as being off: read at seven or more.',
  lobes: 'What is left waves so many times a turn: the shape of the thing, no move takes it out.',
  'needle-not-seen-moving':
    'All readings round are one and the same: press the stylus and see the needle move.',
  'turned-back': 'The places were not read in one direction: backlash shows. Turn one way only.',
  'start-not-repeated':
    'Back at the first place the reading differs: something slipped. Read round again.',
  'face-not-said': 'Bore or boss was not said; they move opposite ways.',
  'rise-not-said':
    'It was taken that the reading rises when the stylus is pressed: press it and see.',
  'jaw-one-not-said': 'Jaw one was taken to stand at 0\u00b0.',
  'turning-not-said': 'The angles were taken as places on the work, not as turns of the chuck.',
  'never-moved': 'What is found here is told, and never tapped or set over.',
  'stack-end-not-said': 'The stack was taken to stand under the left end of the bar.',
  'set-uncertainty-not-said': 'Stack, bar and plate were taken as without error.',
  'set-up-not-known': 'No set-up has that name, plane or axis here: choose one that is offered.',
  'set-up-not-chosen': 'A reading came for a set-up and none is chosen: choose one.',
  'set-up-answer-not-read': 'What was typed for the set-up could not be read: type it anew.',
  'set-up-lacks': 'The set-up needs an answer or readings before it says anything.',
  'set-up-full': 'Seventy-two places are taken: strike one out, or keep the result.',
  'no-sweep-for-set-up': 'No sweep has ended that this set-up could take.',
  'nothing-to-keep': 'The set-up has no result that could be kept, or it is kept already.',
  'no-part-to-aim-by': 'No part was proved since the aim was last changed.',
} as const;
