import { daysFrom, intersection } from '../day-ranges.js';
import { flag, type Meeting, meetings, type PenRule, type Yard, type YardAnimal } from '../yard.js';

/** A newcomer that shares a pen before its quarantine is over. It starts anew when another newcomer joins it. */
export const quarantine: PenRule = {
  id: 'quarantine',
  title: 'Newcomers in quarantine',
  setting: ({ quarantineDays }) => `${quarantineDays} days from arrival.`,
  source:
    'At least 30 days under a veterinarian, starting anew when another animal comes in: zoo practice (aza.org/quarantine); keepers advise 3 to 12 months (second-hand)',
  check(yard) {
    const met = meetings(yard);
    return met.flatMap((meeting) =>
      [
        [meeting.a, meeting.b],
        [meeting.b, meeting.a],
      ].flatMap(([newcomer, other]) => {
        const { arrived } = newcomer;
        if (!arrived || cameTogether(newcomer, other)) return [];
        // Of two newcomers the later one is a newcomer to the earlier: one flag for the pair.
        if (other.arrived && other.arrived.latest > arrived.latest) return [];
        const last = lastArrival(newcomer, met, yard);
        const days = yard.settings.quarantineDays;
        const when = {
          possible: intersection(meeting.possible, daysFrom(arrived.earliest, last.latest + days)),
          certain: intersection(meeting.certain, daysFrom(arrived.latest, last.earliest + days)),
        };
        return flag(yard, this, when, {
          pen: meeting.pen,
          animals: [newcomer.id, other.id],
          severity: 'danger',
          message: `${newcomer.id} shares ${meeting.pen} with ${other.id} within ${days} days of quarantine.`,
          remedy:
            'Keep newcomers apart, tend them last, and let a veterinarian decide when it is over.',
        });
      }),
    );
  },
};

function cameTogether(a: YardAnimal, b: YardAnimal): boolean {
  return (
    a.arrived !== null &&
    b.arrived !== null &&
    a.arrived.earliest === b.arrived.earliest &&
    a.arrived.latest === b.arrived.latest
  );
}

/** The arrival from which the newcomer's quarantine counts: its own, or that of the last newcomer it met within quarantine. */
function lastArrival(
  newcomer: YardAnimal,
  met: readonly Meeting[],
  yard: Yard,
): { readonly earliest: number; readonly latest: number } {
  let last = newcomer.arrived!;
  const companions = met
    .flatMap((meeting) => {
      if (meeting.a.id === newcomer.id) return [{ other: meeting.b, meeting }];
      return meeting.b.id === newcomer.id ? [{ other: meeting.a, meeting }] : [];
    })
    .filter(({ other }) => other.arrived !== null)
    .sort((x, y) => x.other.arrived!.latest - y.other.arrived!.latest);
  for (const { other, meeting } of companions) {
    const joined = other.arrived!;
    const within = daysFrom(joined.earliest, last.latest + yard.settings.quarantineDays);
    if (joined.latest > last.latest && intersection(meeting.possible, within).length > 0) {
      last = joined;
    }
  }
  return last;
}
