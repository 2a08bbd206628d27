import {
  byPen,
  flag,
  type Occupants,
  type PenRule,
  whenOccupants,
  type YardAnimal,
} from '../yard.js';

/** More mature males beside females than the set ratio allows. */
export const surplusMales: PenRule = {
  id: 'surplus-males',
  title: 'Too many males for the females',
  setting: ({ femalesPerMale }) => `${femalesPerMale} females for each mature male.`,
  source:
    'One male to three or more females: common practice, no source. With a male surplus 75 % of females were wounded, at an even ratio 25 %: Golubovic et al. 2018, Biol. J. Linn. Soc.',
  check(yard) {
    const { femalesPerMale } = yard.settings;
    return [...byPen(yard)].flatMap(([pen, stays]) => {
      const involved = new Set<string>();
      const when = whenOccupants(yard, stays, ({ possible, certain }: Occupants, day) => {
        const males = possible.filter(({ sex, mature }) => sex === 'm' && mature.possible <= day);
        const females = possible.filter(({ sex }) => sex === 'f');
        const sureMales = certain.filter(({ sex, mature }) => sex === 'm' && mature.certain <= day);
        const sureFemales = certain.filter(({ sex }) => sex === 'f');
        const exceeds = (some: readonly YardAnimal[], others: readonly YardAnimal[]): boolean =>
          some.length * femalesPerMale > others.length;
        const holds = females.length > 0 && exceeds(males, sureFemales);
        if (holds) for (const { id } of [...males, ...females]) involved.add(id);
        return { possible: holds, certain: sureFemales.length > 0 && exceeds(sureMales, females) };
      });
      return flag(yard, this, when, {
        pen,
        animals: [...involved].sort(),
        severity: 'warning',
        message: `${pen} has more mature males than one to ${femalesPerMale} females.`,
        remedy:
          'Take males out, or let them visit only: stored sperm makes a male all year needless. Look at the females for wounds.',
      });
    });
  },
};
