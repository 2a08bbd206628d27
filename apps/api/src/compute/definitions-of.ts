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
