import { genotypePosteriors } from './genotype-posteriors.js';
import type { ProgramInput } from './program-input.js';

/**
 * How many times likelier the records are if the candidate sired the young than if an unrelated male of the base did; 0 when he is
 * excluded, null when the records cannot be true either way, Infinity when nobody else can be.
 * The young must be alone in a clutch; its other candidates are set aside.
 */
export function paternityIndex(
  input: ProgramInput,
  young: string,
  candidate: string,
): number | null {
  const clutch = input.animals.find((animal) => animal.id === young)?.clutch;
  const even: ProgramInput = {
    ...input,
    clutches: (input.clutches ?? []).map((entry) =>
      entry.id === clutch
        ? { ...entry, sire: null, sires: [{ id: candidate, probability: '1/2' }] }
        : entry,
    ),
  };
  const found = genotypePosteriors(even);
  if (!found.possible) return null;
  const odds = found.sires[young] ?? {};
  return (odds[candidate] ?? 0) / (odds.unknown ?? 0);
}

/** The same for the records of each locus alone. */
export function paternityIndexByLocus(
  input: ProgramInput,
  young: string,
  candidate: string,
): Record<string, number | null> {
  return Object.fromEntries(
    input.loci.map(({ id }) => {
      const evidence = (input.evidence ?? []).filter(
        (record) => !('locus' in record) || record.locus === id,
      );
      return [id, paternityIndex({ ...input, evidence }, young, candidate)];
    }),
  );
}

/** Probability of paternity (W) from an index and the probability before the test. */
export function paternityProbability(index: number, prior: number): number {
  if (index === Number.POSITIVE_INFINITY) return 1;
  return (index * prior) / (index * prior + 1 - prior);
}
