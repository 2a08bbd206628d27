import { daysFrom, intersection } from '../day-ranges.js';
import { flag, meetings, type PenRule } from '../yard.js';

/** Another male beside a female whose mating is planned: her stored sperm would blur the paternity for years. */
export const blurredPaternity: PenRule = {
  id: 'blurred-paternity',
  title: 'Another male beside a planned mating',
  setting: ({ planned }) =>
    planned.length === 0 ? 'No mating is planned on record.' : `${planned.length} planned.`,
  source:
    'Females store sperm for 3 years: Pearse, Janzen & Avise 2001, Heredity, doi 10.1046/j.1365-2540.2001.00841.x; 20 to 57 % of tortoise clutches had several sires in the studies read',
  check(yard) {
    return meetings(yard).flatMap((meeting) =>
      yard.settings.planned.flatMap(({ male, female }) => {
        const pair = [meeting.a, meeting.b];
        const other = pair.find(({ id }) => id !== female);
        if (!pair.some(({ id }) => id === female) || !other) return [];
        if (other.id === male || other.sex === 'f') return [];
        const grown = daysFrom(other.mature.possible, Number.POSITIVE_INFINITY);
        const surely = daysFrom(other.mature.certain, Number.POSITIVE_INFINITY);
        const when = {
          possible: intersection(meeting.possible, grown),
          certain: other.sex === 'm' ? intersection(meeting.certain, surely) : [],
        };
        return flag(yard, this, when, {
          pen: meeting.pen,
          animals: [other.id, female],
          severity: 'note',
          message: `${other.id} in ${meeting.pen} may sire young of ${female}, planned for ${male} alone.`,
          remedy: `Keep other males from ${female}, or record them as possible fathers.`,
        });
      }),
    );
  },
};
