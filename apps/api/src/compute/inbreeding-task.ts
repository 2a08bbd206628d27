import { completeness, inbreeding } from '@scutewright/pedigree';
import { keptPedigree, type PedigreeInput } from './kept-pedigree.js';

const GENERATIONS = 5;

export interface InbreedingAnswer {
  /** F of every animal of the pedigree, in its order. */
  readonly inbreeding: Float64Array;
  /** Share of ancestral places filled, GENERATIONS entries an animal, parents first. */
  readonly known: Float64Array;
  /** Equivalent complete generations, by animal. */
  readonly equivalentGenerations: Float64Array;
}

export const KNOWN_GENERATIONS = GENERATIONS;

/** F and completeness of every animal. */
export function inbreedingTask(input: PedigreeInput): InbreedingAnswer {
  const pedigree = keptPedigree(input);
  const everyone = Int32Array.from({ length: pedigree.animals }, (_, i) => i);
  const each = completeness(pedigree, everyone, GENERATIONS);
  const known = new Float64Array(pedigree.animals * GENERATIONS);
  each.forEach((one, i) => {
    known.set(one.knownByGeneration, i * GENERATIONS);
  });
  return {
    inbreeding: inbreeding(pedigree),
    known,
    equivalentGenerations: Float64Array.from(each, (one) => one.equivalentGenerations),
  };
}
