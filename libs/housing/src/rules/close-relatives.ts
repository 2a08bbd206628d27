import { bothMature, flag, meetings, type PenRule } from '../yard.js';

/** A male and a female that may breed and whose young would be inbred. */
export const closeRelatives: PenRule = {
  id: 'close-relatives',
  title: 'Close relatives that could breed',
  setting: ({ noteF, warnF }) => `From F ${noteF} of their young; a warning from ${warnF}.`,
  source:
    'F of young is the kinship of the parents (definition); 1/16 and 1/8 are lines breeders talk of (common practice). Cost: Ralls, Ballou & Templeton 1988, Conserv. Biol. 2:185-193',
  check(yard) {
    const { noteF, warnF } = yard.settings;
    return meetings(yard).flatMap((meeting) => {
      const { a, b, pen } = meeting;
      if (a.sex !== null && a.sex === b.sex) return [];
      const F = yard.kinship(a.id, b.id);
      if (F === null || F < noteF) return [];
      const isSexed = a.sex !== null && b.sex !== null;
      const grown = bothMature(meeting, a, b);
      return flag(yard, this, isSexed ? grown : { ...grown, certain: [] }, {
        pen,
        animals: [a.id, b.id],
        severity: isSexed && F >= warnF ? 'warning' : 'note',
        message: `${a.id} and ${b.id} may breed in ${pen}; F of their young is ${F.toFixed(3)} by the recorded pedigree.`,
        remedy: 'Part them, or leave their eggs unset; stored sperm stays for years.',
      });
    });
  },
};
