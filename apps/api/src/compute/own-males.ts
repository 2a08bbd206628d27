import { candidatesOfClutch, foundAnimals, maturityDays, sexOf } from '../snapshot/findings.js';
import { NO_DAY, NONE, type Snapshot } from '../snapshot/snapshot.js';
import { unrecordedMale } from '../snapshot/with-parents.js';

/** From this share on the male that nobody recorded is worth a question; below it every clutch of a yard would ask. Ours: no source. */
const WORTH_ASKING = 0.1;

/** Days from laying to hatching at most, a rest in the egg included. Ours: no source. */
const LONGEST_IN_THE_EGG = 400;

/** Possible fathers of all clutches together at most: with more, counting the worst case takes minutes. */
const MOST_CANDIDATES = 3000;

/**
 * Males of the program that may be the one nobody recorded, by clutch: of clutches laid in a yard that is not said to have been open, those
 * of the mother's species that were grown then. Nobody is named who could be an own descendant: a male with a clutch of his own
 * counts only where that was surely laid before. Null where they are more than 3,000 together.
 */
export function ownMales(snapshot: Snapshot): ReadonlyMap<number, readonly number[]> | null {
  const { animals, clutches, sires, dams } = snapshot;
  const found = new Map(foundAnimals(snapshot));
  const males = Array.from({ length: animals.count }, (_, i) => i).filter(
    (i) =>
      animals.origins[i] !== 'ANCESTOR_ONLY' && sexOf(snapshot, i) !== 'FEMALE' && !found.has(i),
  );
  const grown = new Map(males.map((male) => [male, maturityDays(snapshot, male).possible]));
  const laid = layingDays(snapshot);
  let candidates = 0;
  const wanted = new Map<number, readonly number[]>();
  for (let c = 0; c < clutches.count; c++) {
    const recorded = candidatesOfClutch(sires, c).reduce((sum, one) => sum + one.probability, 0);
    if (1 - recorded < WORTH_ASKING) continue;
    const mothers = candidatesOfClutch(dams, c).filter(
      ({ position }) =>
        animals.origins[position] !== 'ANCESTOR_ONLY' &&
        unrecordedMale(snapshot, c, position).yard !== 'OPEN',
    );
    if (mothers.length === 0) continue;
    const { earliest, latest } = laid[c];
    const possible = males.filter((male) => {
      if (mothers.every(({ position }) => position === male)) return false;
      if (animals.species[male] !== animals.species[mothers[0].position]) return false;
      const own = animals.clutch[male];
      return grown.get(male)! <= latest && (own === NONE || laid[own].latest < earliest);
    });
    if (possible.length === 0) continue;
    candidates += possible.length;
    if (candidates > MOST_CANDIDATES) return null;
    wanted.set(c, possible);
  }
  return wanted;
}

/** By clutch: the first and last day on which it may have been laid, by its own date or by when its young hatched. */
function layingDays({ animals, clutches }: Snapshot): { earliest: number; latest: number }[] {
  const days = Array.from({ length: clutches.count }, (_, c) => ({
    earliest: clutches.laid[c] === null ? Number.NEGATIVE_INFINITY : clutches.laidEarliest[c],
    latest: clutches.laid[c] === null ? Number.POSITIVE_INFINITY : clutches.laidLatest[c],
  }));
  for (let i = 0; i < animals.count; i++) {
    const c = animals.clutch[i];
    if (c === NONE || clutches.laid[c] !== null || animals.hatchedLatest[i] === NO_DAY) continue;
    days[c].earliest = Math.max(days[c].earliest, animals.hatchedEarliest[i] - LONGEST_IN_THE_EGG);
    days[c].latest = Math.min(days[c].latest, animals.hatchedLatest[i]);
  }
  return days;
}
