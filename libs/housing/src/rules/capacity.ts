import { byPen, flag, type PenRule, whenOccupants } from '../yard.js';

/** More animals than the breeder means a pen for. */
export const capacity: PenRule = {
  id: 'capacity',
  title: 'More than the pen is meant for',
  setting: () => 'The number you set for a pen.',
  source: 'Your own figure for the pen; your authority may ask for more room',
  check(yard) {
    const meant = new Map(yard.pens.map(({ id, capacity: most }) => [id, most]));
    return [...byPen(yard)].flatMap(([pen, stays]) => {
      const most = meant.get(pen) ?? null;
      if (most === null) return [];
      let highest = 0;
      const when = whenOccupants(yard, stays, ({ possible, certain }) => {
        highest = Math.max(highest, possible.length);
        return { possible: possible.length > most, certain: certain.length > most };
      });
      return flag(yard, this, when, {
        pen,
        animals: [...new Set(stays.map(({ animal }) => animal))].sort(),
        severity: 'warning',
        message: `${pen} is meant for ${most} and holds up to ${highest}.`,
        remedy: 'Move some, or set another number for the pen.',
      });
    });
  },
};
