import { bothMature, flag, meetings, type PenRule } from '../yard.js';

/** Two animals that may both be males in one pen, from when both may be mature. */
export const malesTogether: PenRule = {
  id: 'males-together',
  source:
    'Common practice, no source; radiated tortoise males fight and try to roll rivals in the season (second-hand)',
  check(yard) {
    return meetings(yard).flatMap((meeting) => {
      const { pen, a, b } = meeting;
      if (a.sex === 'f' || b.sex === 'f') return [];
      const isSexed = a.sex === 'm' && b.sex === 'm';
      const grown = bothMature(meeting, a, b);
      return flag(yard, this, isSexed ? grown : { ...grown, certain: [] }, {
        pen,
        animals: [a.id, b.id],
        severity: isSexed ? 'danger' : 'note',
        message: isSexed
          ? `${a.id} and ${b.id} are males and may fight in ${pen} once both are mature.`
          : `${a.id} and ${b.id} may both be males and may fight in ${pen} once mature.`,
        remedy: isSexed
          ? 'Part them before then; until then look daily for ramming, mounting and overturned animals.'
          : 'Watch for ramming and mounting, and part them when their sex shows.',
      });
    });
  },
};
