import type { CrossInput } from '@scutewright/genetics';
import type { Snapshot } from '../snapshot/snapshot.js';
import type { Definitions } from './egg-looks.js';

/** The genes and traits of a program, as the kernels take them. */
export function definitionsOf(snapshot: Snapshot): Definitions {
  return {
    loci: snapshot.loci.map(({ code, definition }) => ({
      id: code,
      alleles: definition.alleles,
      inheritance: definition.inheritance,
    })),
    traits: snapshot.traits.map(({ name, definition }) => ({ id: name, when: definition.when })),
  };
}

/** The genes that are linked, two and two: of several in a row on one chromosome the pair that was written first. */
export function linkageOf({ loci, locusPairs }: Snapshot): NonNullable<CrossInput['linkage']> {
  const taken = new Set<number>();
  return locusPairs.flatMap(({ kind, first, second, chance }) => {
    if (kind !== 'LINKED' || taken.has(first) || taken.has(second)) return [];
    taken.add(first).add(second);
    return [{ loci: [loci[first].code, loci[second].code], r: chance }];
  });
}
