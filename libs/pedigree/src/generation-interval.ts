import { MALE, NO_DAY, type Pedigree } from './pedigree.js';

/** A parent's age at the hatching of young that became breeders themselves, in years, by the four ways genes go. */
export interface PathAges {
  readonly sireToSon: readonly number[];
  readonly sireToDaughter: readonly number[];
  readonly damToSon: readonly number[];
  readonly damToDaughter: readonly number[];
}

export interface GenerationInterval {
  /** Mean age of each path, NaN where it has no pair. */
  readonly pathMeans: Readonly<Record<keyof PathAges, number>>;
  /** Mean of the four path means; NaN where one of them is missing. */
  readonly interval: number;
  /** Mean over all pairs, whatever their path: the figure that a path with many pairs pulls. NaN without pairs. */
  readonly meanOfPairs: number;
}

const DAYS_A_YEAR = 365.25;

/** The mean of the four path means. Source: Rendel & Robertson 1950, J. Genet. 50:1-8 (from memory). */
export function generationInterval(ages: PathAges): GenerationInterval {
  const mean = (list: readonly number[]): number =>
    list.reduce((sum, each) => sum + each, 0) / list.length;
  const pathMeans = {
    sireToSon: mean(ages.sireToSon),
    sireToDaughter: mean(ages.sireToDaughter),
    damToSon: mean(ages.damToSon),
    damToDaughter: mean(ages.damToDaughter),
  };
  return {
    pathMeans,
    interval: mean(Object.values(pathMeans)),
    meanOfPairs: mean([
      ...ages.sireToSon,
      ...ages.sireToDaughter,
      ...ages.damToSon,
      ...ages.damToDaughter,
    ]),
  };
}

/**
 * The pairs of a pedigree: certain parent and young, both with a hatching date, the young of known sex and itself a certain or possible
 * parent. A date that is only a month or a year counts as its middle. Cost: rows.
 */
export function pathAges(pedigree: Pedigree): PathAges {
  const { size, animals, sire, dam, sex, hatched, draws } = pedigree;
  const ages = {
    sireToSon: [] as number[],
    sireToDaughter: [] as number[],
    damToSon: [] as number[],
    damToDaughter: [] as number[],
  };
  if (!hatched || !sex) return ages;
  const isBreeder = new Uint8Array(size);
  for (let i = 0; i < size; i++) {
    for (const parent of [sire[i], dam[i]]) if (parent >= 0 && parent < size) isBreeder[parent] = 1;
  }
  for (const { candidates } of draws) for (const each of candidates) isBreeder[each] = 1;
  const middle = (row: number): number => (hatched.earliest[row] + hatched.latest[row]) / 2;
  const isDated = (row: number): boolean =>
    row >= 0 && row < size && hatched.earliest[row] !== NO_DAY;
  for (let i = 0; i < animals; i++) {
    if (!isBreeder[i] || sex[i] === 0 || !isDated(i)) continue;
    const isSon = sex[i] === MALE;
    const age = (parent: number): number => (middle(i) - middle(parent)) / DAYS_A_YEAR;
    if (isDated(sire[i])) (isSon ? ages.sireToSon : ages.sireToDaughter).push(age(sire[i]));
    if (isDated(dam[i])) (isSon ? ages.damToSon : ages.damToDaughter).push(age(dam[i]));
  }
  return ages;
}
