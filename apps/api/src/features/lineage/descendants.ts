import { candidatesOf } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { youngOf } from '../genes/gene-finding.js';
import type { PossibleYoung } from './lineage.types.js';

/** The young of an animal with the chance that it is their parent: certain ones first, then by code. */
export function possibleYoung(snapshot: Snapshot, position: number): PossibleYoung[] {
  return youngOf(snapshot, position)
    .map((young) => {
      const parents = [snapshot.sires, snapshot.dams].flatMap((columns) =>
        candidatesOf(snapshot, columns, young),
      );
      const own = parents.find((parent) => parent.position === position);
      return { animal: new Animal(snapshot, young), probability: own?.probability ?? 0 };
    })
    .sort((a, b) => b.probability - a.probability || a.animal.position - b.animal.position);
}

/** How many descendants by generation, each counted once, at its nearest. Cost: descendants. */
export function descendantCounts(snapshot: Snapshot, position: number): number[] {
  const seen = new Set([position]);
  const counts: number[] = [];
  let front = [position];
  while (front.length > 0) {
    const next = new Set(
      front.flatMap((one) => youngOf(snapshot, one)).filter((i) => !seen.has(i)),
    );
    for (const one of next) seen.add(one);
    front = [...next];
    if (front.length > 0) counts.push(front.length);
  }
  return counts;
}
