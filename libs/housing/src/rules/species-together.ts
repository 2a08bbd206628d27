import { flag, meetings, type PenRule } from '../yard.js';

/** Two species in one pen. */
export const speciesTogether: PenRule = {
  id: 'species-together',
  title: 'Species together',
  setting: () => 'Always.',
  source:
    'Carriers of herpesvirus and mycoplasma differ by species: Peer Community J. 2, 2022, e5 (572 tortoises in France); hybrids occur',
  check(yard) {
    return meetings(yard).flatMap((meeting) => {
      const { a, b, pen } = meeting;
      if (a.species === b.species) return [];
      return flag(yard, this, meeting, {
        pen,
        animals: [a.id, b.id],
        severity: 'danger',
        message: `${a.id} and ${b.id} in ${pen} are of different species.`,
        remedy: 'Part them and ask a veterinarian about tests for both.',
      });
    });
  },
};
