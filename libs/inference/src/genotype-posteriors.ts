import { clashingRecords } from './clashing-records.js';
import { type InferenceSettings, inferProgram } from './infer-program.js';
import type { Candidates, Posteriors } from './posteriors.js';
import type { ProgramInput } from './program-input.js';
import { type NamedProgram, readProgram } from './read-program.js';

/** Probability by name; what is impossible is left out. */
export type Odds = Readonly<Record<string, number>>;

export interface GenotypePosteriors {
  /** False when the records cannot all be true. */
  readonly possible: boolean;
  /** Probability of all records together; may underflow to 0, `logEvidence` does not. */
  readonly evidenceProbability: number;
  readonly logEvidence: number;
  /** By animal, locus and genotype. */
  readonly genotypes: Readonly<Record<string, Readonly<Record<string, Odds>>>>;
  /** By young whose sire is open; `unknown` is a male nobody recorded. */
  readonly sires: Readonly<Record<string, Odds>>;
  readonly dams: Readonly<Record<string, Odds>>;
  /** By animal that may be of several clutches. */
  readonly clutches: Readonly<Record<string, Odds>>;
  /** By clutch: sires of its listed young, in their order, and the probability of just these. */
  readonly clutchSires: Readonly<
    Record<string, readonly { readonly sires: readonly string[]; readonly probability: number }[]>
  >;
  readonly clutchDams: Readonly<Record<string, Odds>>;
  /** Probability that the two lines of each allelism hypothesis are one gene. */
  readonly oneGene: Odds;
  /** Smallest sets of records that cannot all be true, by id; empty when all can. */
  readonly clashes: readonly (readonly string[])[];
  /** False where there may be more sets. */
  readonly clashesComplete: boolean;
  /** Records left out so that the rest of the program could still be answered: all that stand in a clash. Never repaired in silence. */
  readonly setAside: readonly string[];
  readonly effort: Posteriors['effort'];
}

/**
 * Who carries what, and whose young it is: the joint posterior of all genotypes and uncertain parents from all
 * records. Throws a FaultsError with every fault of the input. Cost and exactness are stated in `effort`.
 */
export function genotypePosteriors(
  input: ProgramInput,
  settings: InferenceSettings = {},
): GenotypePosteriors {
  const named = readProgram(input);
  const { program } = named;
  const wanted = { jointSires: true, ...settings };
  const found = inferProgram(program, wanted);
  if (found.possible) return namePosteriors(named, found);
  const { sets, complete } = clashingRecords(program);
  const without = new Uint8Array(program.records.length);
  for (const record of sets.flat()) without[record] = 1;
  const rest = inferProgram(program, { ...wanted, without });
  const id = (record: number): string => named.records[record];
  return {
    ...namePosteriors(named, rest.possible ? rest : found),
    possible: false,
    evidenceProbability: 0,
    logEvidence: Number.NEGATIVE_INFINITY,
    clashes: sets.map((set) => set.map(id)),
    clashesComplete: complete,
    setAside: [...without.keys()].filter((record) => without[record]).map(id),
  };
}

/** Positions back to names. */
export function namePosteriors(named: NamedProgram, found: Posteriors): GenotypePosteriors {
  const { program, animals, clutches } = named;
  const parent = (position: number): string => (position < 0 ? 'unknown' : animals[position]);
  const odds = (
    { animals: list, probabilities }: Candidates,
    name: (p: number) => string,
  ): Odds => {
    const result: Record<string, number> = {};
    for (const [i, position] of list.entries()) {
      if (probabilities[i] > 0) result[name(position)] = probabilities[i];
    }
    return result;
  };
  const byName = <Value, Named>(
    map: ReadonlyMap<number, Value>,
    key: readonly string[],
    name: (value: Value) => Named,
  ): Record<string, Named> =>
    Object.fromEntries([...map].map(([position, value]) => [key[position], name(value)]));
  const genotypes = Object.fromEntries(
    animals.map((id, animal) => [
      id,
      Object.fromEntries(
        program.loci.map((locus, l) => {
          const from = animal * found.stride + found.offset[l];
          const list: [string, number][] = [];
          for (const [g, { text }] of locus.genotypes.entries()) {
            if (found.genotypes[from + g] > 0) list.push([text, found.genotypes[from + g]]);
          }
          return [locus.id, Object.fromEntries(list)];
        }),
      ),
    ]),
  );
  return {
    possible: found.possible,
    evidenceProbability: Math.exp(found.logEvidence),
    logEvidence: found.logEvidence,
    genotypes,
    sires: byName(found.sires, animals, (value) => odds(value, parent)),
    dams: byName(found.dams, animals, (value) => odds(value, parent)),
    clutches: byName(found.clutchesOf, animals, (value) => odds(value, (c) => clutches[c])),
    clutchSires: byName(found.clutchSires, clutches, (list) =>
      list
        .filter(({ probability }) => probability > 0)
        .map(({ sires, probability }) => ({ sires: Array.from(sires, parent), probability })),
    ),
    clutchDams: byName(found.clutchDams, clutches, (value) => odds(value, parent)),
    oneGene: Object.fromEntries(named.hypotheses.map((id, i) => [id, found.oneGene[i]])),
    clashes: [],
    clashesComplete: true,
    setAside: [],
    effort: found.effort,
  };
}
