import { inferProgram } from './infer-program.js';
import type { Clutch, Program, ProgramRecord } from './program.js';

/** Chances of the usual slips, before the records. Our assumptions, no source; the user may set them. */
export interface SlipRates {
  /** A look was read or noted wrong. */
  readonly misread: number;
  /** The sire of a young is another than recorded: a male nobody recorded, of the base. */
  readonly otherSire: number;
  /** Eggs or young were mixed up: both parents are others. */
  readonly mixUp: number;
}

export const USUAL_SLIPS: SlipRates = { misread: 0.01, otherSire: 0.02, mixUp: 0.01 };

export interface Explanation {
  readonly kind: 'misread' | 'other sire' | 'mixed up' | 'two genes';
  /** The record that would be wrong, or -1. */
  readonly record: number;
  /** The young concerned, or -1. */
  readonly animal: number;
  /** Share among the explanations listed; they sum to 1. */
  readonly probability: number;
}

/** Prior chance that one more gene gives the same look; our assumption. */
const TWO_GENES = 0.01;

/**
 * The trade's usual explanations of one smallest clashing set, weighed by their chance and by how probable they make the set. Only one slip at
 * a time; empty when none of them lifts the contradiction. Cost: an inference on the set's records per explanation.
 */
export function explainClash(
  program: Program,
  clash: readonly number[],
  rates: SlipRates = USUAL_SLIPS,
): Explanation[] {
  const part: Program = { ...program, records: clash.map((record) => program.records[record]) };
  const found: { kind: Explanation['kind']; record: number; animal: number; log: number }[] = [];
  const weigh = (
    kind: Explanation['kind'],
    record: number,
    animal: number,
    rate: number,
    changed: Program,
  ): void => {
    const { logEvidence } = inferProgram(changed);
    const log = Math.log(rate) + logEvidence;
    if (log > Number.NEGATIVE_INFINITY) found.push({ kind, record, animal, log });
  };
  const young = new Set<number>();
  for (const [i, record] of part.records.entries()) {
    if (record.kind === 'phenotype') {
      const misread: ProgramRecord = { ...record, misread: 1 };
      const records = part.records.map((own, k) => (k === i ? misread : own));
      weigh('misread', clash[i], record.animal, rates.misread, { ...part, records });
    }
    if (record.kind !== 'count') young.add(record.animal);
  }
  for (const animal of young) {
    const alone = withOwnParents(part, animal);
    if (!alone) continue;
    const { program: apart, clutch } = alone;
    const change = (parents: Partial<Clutch>): Program => ({
      ...apart,
      clutches: apart.clutches.map((own, c) => (c === clutch ? { ...own, ...parents } : own)),
    });
    const none = { animals: new Int32Array(0), weights: new Float64Array(0) };
    const noSire = { sires: none.animals, sireWeights: none.weights };
    weigh('other sire', -1, animal, rates.otherSire, change(noSire));
    weigh(
      'mixed up',
      -1,
      animal,
      rates.mixUp,
      change({ ...noSire, dams: none.animals, damWeights: none.weights }),
    );
  }
  for (const changed of secondGenes(part)) weigh('two genes', -1, -1, TWO_GENES, changed);
  const largest = Math.max(...found.map(({ log }) => log));
  const total = found.reduce((sum, { log }) => sum + Math.exp(log - largest), 0);
  return found
    .map(({ log, ...rest }) => ({ ...rest, probability: Math.exp(log - largest) / total }))
    .sort((a, b) => b.probability - a.probability);
}

/** The program with one young in a clutch of its own; null for a founder or one of several possible clutches. */
function withOwnParents(
  program: Program,
  animal: number,
): { program: Program; clutch: number } | null {
  const { clutch, sire, dam, clutches } = program;
  const list = (parent: number) => Int32Array.from(parent < 0 ? [] : [parent]);
  const own: Clutch | undefined =
    clutch[animal] >= 0
      ? clutches[clutch[animal]]
      : sire[animal] >= 0 || dam[animal] >= 0
        ? {
            sires: list(sire[animal]),
            sireWeights: Float64Array.from(list(sire[animal]), () => 1),
            dams: list(dam[animal]),
            damWeights: Float64Array.from(list(dam[animal]), () => 1),
            paternity: { kind: 'single', rate: 0 },
          }
        : undefined;
  if (!own) return null;
  const set = (column: Int32Array, value: number): Int32Array => {
    const copy = column.slice();
    copy[animal] = value;
    return copy;
  };
  return {
    program: {
      ...program,
      sire: set(sire, -1),
      dam: set(dam, -1),
      clutch: set(clutch, clutches.length),
      clutches: [...clutches, own],
    },
    clutch: clutches.length,
  };
}

/** For each trait seen in the clash that hangs on one locus: the program in which a second such gene gives the same look. */
function secondGenes(program: Program): Program[] {
  const seen = new Set(program.records.flatMap((r) => (r.kind === 'phenotype' ? [r.trait] : [])));
  return [...seen].flatMap((t) => {
    const trait = program.traits[t];
    const locus = program.loci.find(({ id }) => id === trait.loci[0]);
    const [rule] = trait.rules;
    if (trait.loci.length !== 1 || trait.rules.length !== 1 || !locus || rule.kind !== 'genotypes')
      return [];
    const second = { ...locus, id: `${locus.id} (second gene)` };
    const either = {
      kind: 'any',
      parts: [rule, { ...rule, locus: second.id, key: `${rule.key} second` }],
      key: `${rule.key} either`,
    } as const;
    const traits = program.traits.map((own, k) =>
      k === t ? { ...own, rules: [either], loci: [...own.loci, second.id] } : own,
    );
    return [{ ...program, loci: [...program.loci, second], traits }];
  });
}
