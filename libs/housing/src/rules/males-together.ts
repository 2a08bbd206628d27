import {
  bothMature,
  flag,
  type Meeting,
  meetings,
  type PenFlag,
  type PenRule,
  type Yard,
} from '../yard.js';

/** Two animals that may both be males in one pen, from when both may be mature. */
export const malesTogether: PenRule = {
  id: 'males-together',
  title: 'Grown males together',
  setting: () => 'From when both may be mature.',
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
        ...words(yard, meeting),
      });
    });
  },
};

/** What is said depends on whether the two may be, or surely are, grown already. */
function words(yard: Yard, { pen, a, b }: Meeting): Pick<PenFlag, 'message' | 'remedy'> {
  const both = `${a.id} and ${b.id}`;
  const grown = (which: 'possible' | 'certain') =>
    Math.max(a.mature[which], b.mature[which]) <= yard.from;
  if (a.sex !== 'm' || b.sex !== 'm') {
    return {
      message: `${both} may both be males and may fight in ${pen}${grown('possible') ? '' : ' once mature'}.`,
      remedy: 'Watch for ramming and mounting, and part them when their sex shows.',
    };
  }
  const look = 'look daily for ramming, mounting and overturned animals';
  if (grown('certain')) {
    return {
      message: `${both} are grown males and may fight in ${pen} now.`,
      remedy: `Part them; until you have, ${look}.`,
    };
  }
  if (grown('possible')) {
    return {
      message: `${both} are males, may both be grown already, and may fight in ${pen}.`,
      remedy: `Part them, or measure them and ${look}.`,
    };
  }
  return {
    message: `${both} are males and may fight in ${pen} once both are mature.`,
    remedy: `Part them before then; until then ${look}.`,
  };
}
