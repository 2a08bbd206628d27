import { daysFrom, intersection } from '../day-ranges.js';
import { flag, meetings, type PenRule } from '../yard.js';

/** A female that is not yet mature beside a male that may be. */
export const immatureFemales: PenRule = {
  id: 'immature-females',
  title: 'Young females beside grown males',
  setting: () => 'By age.',
  source:
    'Immature females are courted and wounded as well: Golubovic et al. 2018, Biol. J. Linn. Soc.',
  check(yard) {
    return meetings(yard).flatMap((meeting) => {
      const [male, female] =
        meeting.a.sex === 'm' ? [meeting.a, meeting.b] : [meeting.b, meeting.a];
      if (male.sex !== 'm' || female.sex !== 'f') return [];
      // She may still be immature until she surely is mature, and surely is until she may be.
      const when = {
        possible: intersection(
          meeting.possible,
          daysFrom(male.mature.possible, female.mature.certain),
        ),
        certain: intersection(
          meeting.certain,
          daysFrom(male.mature.certain, female.mature.possible),
        ),
      };
      return flag(yard, this, when, {
        pen: meeting.pen,
        animals: [male.id, female.id],
        severity: 'warning',
        message: `${female.id} may not be mature while ${male.id} is in ${meeting.pen} with her.`,
        remedy: 'Keep her apart from mature males until she is.',
      });
    });
  },
};
