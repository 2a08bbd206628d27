import { requiredAreaM2 } from '../floor-area.js';
import { byPen, flag, type PenRule, whenOccupants } from '../yard.js';

/** Less floor than the rule of a jurisdiction asks for those who are in the pen. */
export const space: PenRule = {
  id: 'space',
  title: 'Floor by the rule of a jurisdiction',
  setting: ({ areaRules }) =>
    areaRules.length === 0
      ? 'None is set: the published formulas were read second-hand only, so none is used. Look up the one that binds you.'
      : areaRules.map(({ jurisdiction, year }) => `${jurisdiction} ${year}`).join(', '),
  source: 'The rule of the jurisdiction named in the message; local codes prevail',
  check(yard) {
    const areas = new Map(yard.pens.map(({ id, areaM2 }) => [id, areaM2]));
    return [...byPen(yard)].flatMap(([pen, stays]) => {
      const area = areas.get(pen) ?? null;
      if (area === null) return [];
      return yard.settings.areaRules.flatMap((rule) => {
        let most = 0;
        const tooSmall = (animals: readonly { readonly sclMm: number | null }[]): boolean => {
          const needed = requiredAreaM2(rule, animals) ?? 0;
          most = Math.max(most, needed);
          return needed > area;
        };
        const when = whenOccupants(yard, stays, ({ possible, certain }) => ({
          possible: tooSmall(possible),
          certain: tooSmall(certain),
        }));
        const source = `${rule.jurisdiction} ${rule.year}: ${rule.source}. ${rule.caution}`;
        const animals = [...new Set(stays.map(({ animal }) => animal))].sort();
        return flag(yard, { id: this.id, source }, when, {
          pen,
          animals,
          severity: 'warning',
          message: `${pen} has ${area} m2; ${rule.jurisdiction} ${rule.year} asks for up to ${most.toFixed(1)} m2 for those in it.`,
          remedy: 'Give more ground or fewer animals; the figure is a minimum.',
        });
      });
    });
  },
};
