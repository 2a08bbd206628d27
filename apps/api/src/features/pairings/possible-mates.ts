import type { PairingSettings } from '@scutewright/commands';
import { housedAnimals, maturityDays, presentStays, sexFinding } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';

/** Positions of animals that could breed, and in words who was left out. */
export interface Breeders {
  readonly males: readonly number[];
  readonly females: readonly number[];
  readonly leftOut: readonly string[];
}

/** Everybody that lives with the program and may be grown; only of one species and one pen where these are named. */
export function breeders(
  snapshot: Snapshot,
  day: number,
  settings: PairingSettings,
  species: string | null,
): Breeders {
  const { animals } = snapshot;
  const housed = housedAnimals(snapshot);
  const inPen = settings.penId
    ? new Set(
        presentStays(snapshot)
          .filter(({ pen }) => snapshot.pens[pen].id === settings.penId)
          .map(({ animal }) => animal),
      )
    : null;
  const males: number[] = [];
  const females: number[] = [];
  const left = { gone: 0, otherSpecies: 0, elsewhere: 0, young: 0, unsexed: 0 };
  for (let i = 0; i < animals.count; i++) {
    const { sex } = sexFinding(snapshot, i);
    if (animals.origins[i] === 'ANCESTOR_ONLY' || (housed.size > 0 && !housed.has(i))) left.gone++;
    else if (species !== null && animals.species[i] !== species) left.otherSpecies++;
    else if (inPen && !inPen.has(i)) left.elsewhere++;
    else if (maturityDays(snapshot, i).possible > day) left.young++;
    else if (sex === 'UNKNOWN') left.unsexed++;
    else (sex === 'MALE' ? males : females).push(i);
  }
  const words: readonly [number, string][] = [
    [left.young, `too young to breed: under ${snapshot.season.settings.matureYears[0]} years`],
    [left.unsexed, 'of unknown sex'],
    [left.otherSpecies, 'of other species'],
    [left.elsewhere, 'in other pens'],
    [left.gone, 'that are in no pen'],
  ];
  return {
    males,
    females,
    leftOut: words.filter(([count]) => count > 0).map(([count, what]) => `${count} ${what}`),
  };
}
