import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';

const Words = (description: string) => Type.String({ maxLength: 120, description });

/** What a person writes at the head of a job's record. Empty: not given. */
export const JobCard = Type.Object(
  {
    jobNumber: Words('Number of the shop’s own, from the traveller or the drawing'),
    part: Words('Part or drawing'),
    machine: Words('Machine and vise'),
    operator: Words('Who sets it'),
    indicator: Words('Which indicator: number or mark of the shop’s own'),
    indicatorChecked: Words('When and against what it was last checked'),
    readdedBy: Words('Who added the blocks up again'),
  },
  closed,
);
export type JobCard = Type.Static<typeof JobCard>;

export const JobCardChange = Type.Partial(JobCard);
export type JobCardChange = Type.Static<typeof JobCardChange>;

export function emptyCard(): JobCard {
  return {
    jobNumber: '',
    part: '',
    machine: '',
    operator: '',
    indicator: '',
    indicatorChecked: '',
    readdedBy: '',
  };
}

/** The card of the next job: another part, the same machine, hand and indicator. */
export function nextCard(card: JobCard): JobCard {
  return { ...card, jobNumber: '', part: '', readdedBy: '' };
}
