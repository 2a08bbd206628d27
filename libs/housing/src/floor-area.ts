import { FaultsError, Fraction } from '@scutewright/basics';

/** A floor: length and width where the rule gives them, area in square metres. Exact. */
export interface FloorArea {
  readonly lengthM: Fraction | null;
  readonly widthM: Fraction | null;
  readonly areaM2: Fraction;
}

export interface AreaRule {
  readonly id: string;
  readonly jurisdiction: string;
  readonly year: number;
  readonly source: string;
  /** How far the source was read: shown beside the figure. */
  readonly caution: string;
}

export const GERMANY_1997: AreaRule = {
  id: 'germany-1997',
  jurisdiction: 'Germany',
  year: 1997,
  source: 'Expert report on minimum requirements for keeping reptiles, 10 January 1997',
  caution:
    'Factors from a second-hand page; a minimum meant for terraria, not an outdoor recommendation. Local codes and a veterinarian prevail.',
};

export const SWITZERLAND_2001: AreaRule = {
  id: 'switzerland-2001',
  jurisdiction: 'Switzerland',
  year: 2001,
  source: 'Ordinance table as shown valid from 1 September 2001',
  caution:
    'Read second-hand; the ordinance now in force was not read. Must be divisible, digging possible. Local codes and a veterinarian prevail.',
};

export const ARIZONA: AreaRule = {
  id: 'arizona',
  jurisdiction: 'Arizona',
  year: 2026,
  source: 'Arizona Game & Fish, captive desert tortoises: at least 324 square feet',
  caution: 'Carried over, not read here. Local codes and a veterinarian prevail.',
};

/**
 * Germany 1997: 8 x 4 shell lengths (straight) for two adults, the 3rd and 4th animal +10 % each, from the 5th +20 % each. The percentages are
 * of the floor for two, added up; `compound` reads them one upon the other instead. Throws FaultsError `BAD_GROUP`.
 */
export function germanFloor(
  shellLengthM: Fraction,
  animals: number,
  reading: 'added' | 'compound' = 'added',
): FloorArea {
  checkGroup(animals, shellLengthM.compare(Fraction.zero) > 0);
  const lengthM = shellLengthM.times(Fraction.of(8));
  const widthM = shellLengthM.times(Fraction.of(4));
  let factor = Fraction.one;
  for (let animal = 3; animal <= animals; animal++) {
    const more = animal <= 4 ? Fraction.of(1, 10) : Fraction.of(1, 5);
    factor = factor.plus(reading === 'added' ? more : factor.times(more));
  }
  return { lengthM, widthM, areaM2: lengthM.times(widthM).times(factor) };
}

/** Switzerland 2001: spurred tortoises 12 m2 for two and 3 more for each further, giants 30 and 5. Throws FaultsError `BAD_GROUP`. */
export function swissFloor(group: 'spurred' | 'giants', animals: number): FloorArea {
  checkGroup(animals, true);
  const [forTwo, each] = group === 'spurred' ? [12, 3] : [30, 5];
  return {
    lengthM: null,
    widthM: null,
    areaM2: Fraction.of(forTwo + each * Math.max(0, animals - 2)),
  };
}

/** Arizona: 324 square feet (of 0.3048 m). */
export function arizonaFloor(): FloorArea {
  const foot = Fraction.parse('0.3048');
  return { lengthM: null, widthM: null, areaM2: Fraction.of(324).times(foot.power(2)) };
}

function checkGroup(animals: number, hasLength: boolean): void {
  if (Number.isSafeInteger(animals) && animals >= 1 && animals <= 10_000 && hasLength) return;
  throw new FaultsError([
    {
      code: 'BAD_GROUP',
      message: `No floor can be given for ${animals} animals${hasLength ? '' : ' without a shell length'}.`,
      remedy: 'Give a whole number of animals from 1 to 10,000 and the straight shell length.',
      ids: [],
    },
  ]);
}

/**
 * Square metres that a rule asks for a group, by its longest shell where the rule goes by it; 0 for nobody. Null where the rule needs a
 * shell length and none was measured.
 */
export function requiredAreaM2(
  rule: AreaRule,
  animals: readonly { readonly sclMm: number | null }[],
): number | null {
  if (animals.length === 0) return 0;
  if (rule === ARIZONA) return arizonaFloor().areaM2.toNumber();
  if (rule === SWITZERLAND_2001) return swissFloor('spurred', animals.length).areaM2.toNumber();
  const longest = Math.max(...animals.map(({ sclMm }) => sclMm ?? 0));
  if (longest === 0) return null;
  return germanFloor(Fraction.parse(longest / 1000), animals.length).areaM2.toNumber();
}
