import { FaultsError, Fraction, invariant } from '@scutewright/basics';
import type { Alleles, Block, Cross, MixtureState, ParentState, Unit } from './cross-input.js';
import { genotypeRange } from './genotype.js';
import type { Sex } from './locus.js';
import { type Rule, subjectsOf } from './rule.js';
import { decidedClass, formKey, settleClasses } from './trait.js';
import { unitYoung } from './unit-young.js';

/**
 * What is asked of a young: for each list of rules the first that holds (as in `Trait.rules`), and the genotype
 * at each of `loci`.
 */
export interface Question {
  readonly classes: readonly (readonly Rule[])[];
  readonly loci: readonly string[];
}

/** One possible answer with its probability per fertile egg. */
export interface Outcome {
  readonly sex: Sex;
  /** Position of the rule that holds first, for each list of rules. */
  readonly classes: readonly number[];
  /** Position in `locus.genotypes`, for each locus asked. */
  readonly genotypes: readonly number[];
  readonly probability: Fraction;
}

/** Half-decided forms, or sets of parents, held at a time at most. */
const MOST_HELD = 100_000;

/**
 * Distribution of the answers over the young, mixed over all that the parents may be. Loci are taken one unit at a
 * time and only what the rules still ask is kept, so that free loci cost their sum, not their product.
 * `sire` counts in `cross.sires`; without it the candidates are mixed by their probabilities.
 * Throws FaultsError `TOO_ENTANGLED` beyond 100,000 forms.
 */
export function youngOutcomes(cross: Cross, question: Question, sire?: number): Outcome[] {
  if (sire === undefined && cross.sires.length > 1) {
    const mixed = new Map<string, Outcome>();
    for (const [k, { probability }] of cross.sires.entries()) {
      if (probability.isZero) continue;
      for (const outcome of youngOutcomes(cross, question, k)) {
        const key = `${outcome.sex}|${outcome.classes}|${outcome.genotypes}`;
        const share = outcome.probability.times(probability);
        const known = mixed.get(key)?.probability;
        mixed.set(key, { ...outcome, probability: known ? known.plus(share) : share });
      }
    }
    return [...mixed.values()];
  }
  const asked = new Set([...subjectsOf(question.classes.flat()).loci, ...question.loci]);
  let forms = startForms(cross, question);
  for (const block of cross.blocks) {
    const units = block.units.filter((unit) => unit.loci.some((locus) => asked.has(locus.id)));
    if (units.length === 0) continue;
    const next: Forms = new Map();
    for (const state of projected(block, units, [sire ?? 0])) {
      addForms(next, advanced(forms, units, state, 0, question), state.weight);
    }
    forms = next;
  }
  return outcomesOf(forms, cross, question);
}

/**
 * The same, kept apart by what the parents are: `bySire[k]` answers for the k-th of `sires` (positions in
 * `cross.sires`). Sets of parents that answer alike are one; weights sum to 1. This is what a clutch needs, whose young share
 * their parents. Cost: the product of the *distinct* answers by independent set of loci; bounded as above.
 */
export function outcomesByParents(
  cross: Cross,
  question: Question,
  sires: readonly number[],
): { readonly weight: Fraction; readonly bySire: readonly (readonly Outcome[])[] }[] {
  const asked = new Set([...subjectsOf(question.classes.flat()).loci, ...question.loci]);
  const start = startForms(cross, question);
  let held = [{ weight: Fraction.one, bySire: sires.map(() => start) }];
  for (const block of cross.blocks) {
    const units = block.units.filter((unit) => unit.loci.some((locus) => asked.has(locus.id)));
    if (units.length === 0) continue;
    const states = projected(block, units, sires);
    const next = new Map<string, { weight: Fraction; bySire: Forms[] }>();
    for (const entry of held) {
      for (const state of states) {
        const bySire = entry.bySire.map((forms, k) => advanced(forms, units, state, k, question));
        const key = bySire.map(formsKey).join('\n');
        const weight = entry.weight.times(state.weight);
        const known = next.get(key);
        next.set(key, { bySire, weight: known ? known.weight.plus(weight) : weight });
        if (next.size > MOST_HELD) throw tooEntangled('sets of parents');
      }
    }
    held = [...next.values()];
  }
  return held.map(({ weight, bySire }) => ({
    weight,
    bySire: bySire.map((forms) => outcomesOf(forms, cross, question)),
  }));
}

/** A young of which some loci are known: what is left of the rules. */
interface Form {
  readonly sex: Sex;
  readonly rules: readonly (readonly Rule[])[];
  readonly genotypes: ReadonlyMap<string, number>;
  readonly probability: Fraction;
}
type Forms = Map<string, Form>;

function startForms(cross: Cross, question: Question): Forms {
  const forms: Forms = new Map();
  for (const sex of ['m', 'f'] as const) {
    const probability = sex === 'm' ? cross.maleShare : cross.maleShare.complement();
    if (probability.isZero) continue;
    const rules = question.classes.map((list) =>
      settleClasses(settleClasses(list, { sex }), { ageDays: cross.ageDays }),
    );
    forms.set(sex, { sex, rules, genotypes: new Map(), probability });
  }
  return forms;
}

function advanced(
  forms: Forms,
  units: readonly Unit[],
  state: ParentState,
  sire: number,
  question: Question,
): Forms {
  let current = forms;
  for (const unit of units) {
    const next: Forms = new Map();
    const dam = unit.loci.map((locus) => state.dam.get(locus.id)!);
    const male = unit.loci.map((locus) => state.sires[sire].get(locus.id)!);
    const young = { m: unitYoung(unit, male, dam, 'm'), f: unitYoung(unit, male, dam, 'f') };
    for (const form of current.values()) {
      for (const { genotypes, share } of young[form.sex]) {
        let rules = form.rules;
        let known = form.genotypes;
        for (const [i, locus] of unit.loci.entries()) {
          const genotype = genotypes[i];
          rules = rules.map((list) => settleClasses(list, { locus: locus.id, genotype }));
          if (question.loci.includes(locus.id)) known = new Map([...known, [locus.id, genotype]]);
        }
        const key = `${form.sex}|${rules.map(formKey).join('&')}|${[...known].join()}`;
        const probability = form.probability.times(share);
        const same = next.get(key)?.probability;
        next.set(key, {
          sex: form.sex,
          rules,
          genotypes: known,
          probability: same ? same.plus(probability) : probability,
        });
      }
    }
    if (next.size > MOST_HELD) throw tooEntangled('combinations');
    current = next;
  }
  return current;
}

function addForms(into: Forms, forms: Forms, weight: Fraction): void {
  for (const [key, form] of forms) {
    const probability = form.probability.times(weight);
    const same = into.get(key)?.probability;
    into.set(key, { ...form, probability: same ? same.plus(probability) : probability });
  }
  if (into.size > MOST_HELD) throw tooEntangled('combinations');
}

function formsKey(forms: Forms): string {
  const parts = [...forms].map(([key, form]) => `${key}=${form.probability}`);
  return parts.sort().join(' ');
}

function outcomesOf(forms: Forms, cross: Cross, question: Question): Outcome[] {
  return [...forms.values()].map((form) => {
    const classes = form.rules.map((rules) => {
      const decided = decidedClass(rules);
      invariant(decided !== null, 'a rule stays open though every locus it names is known');
      return decided;
    });
    const genotypes = question.loci.map((id) => {
      const genotype = form.genotypes.get(id)!;
      const { from, to } = genotypeRange(cross.loci.get(id)!, form.sex);
      invariant(genotype >= from && genotype < to, `genotype of ${id} does not fit the sex`);
      return genotype;
    });
    return { sex: form.sex, classes, genotypes, probability: form.probability };
  });
}

/** The parents of a block as far as the units go, with equal ones joined; only the sires asked for. */
function projected(
  block: Block,
  units: readonly Unit[],
  sires: readonly number[],
): readonly ParentState[] {
  const loci = units.flatMap((unit) => unit.loci.map((locus) => locus.id));
  if (block.kind === 'joint') {
    const found = new Map<string, ParentState>();
    for (const { weight, dam, sires: all } of block.states) {
      if (weight.isZero) continue;
      const state = { weight, dam, sires: sires.map((k) => all[k]) };
      const key = [dam, ...state.sires].map((alleles) => allelesKey(alleles, loci)).join('|');
      const known = found.get(key);
      found.set(key, known ? { ...known, weight: known.weight.plus(weight) } : state);
    }
    return [...found.values()];
  }
  let states: ParentState[] = merge(block.dam, loci).map(({ weight, alleles }) => ({
    weight,
    dam: alleles,
    sires: [],
  }));
  for (const k of sires) {
    const mixture = merge(block.sires[k], loci);
    if (states.length * mixture.length > MOST_HELD) throw tooEntangled('sets of parents');
    states = states.flatMap((state) =>
      mixture.map(({ weight, alleles }) => ({
        weight: state.weight.times(weight),
        dam: state.dam,
        sires: [...state.sires, alleles],
      })),
    );
  }
  return states;
}

function merge(mixture: readonly MixtureState[], loci: readonly string[]): MixtureState[] {
  const found = new Map<string, MixtureState>();
  for (const state of mixture) {
    if (state.weight.isZero) continue;
    const key = allelesKey(state.alleles, loci);
    const known = found.get(key);
    found.set(key, known ? { ...known, weight: known.weight.plus(state.weight) } : state);
  }
  return [...found.values()];
}

function allelesKey(alleles: ReadonlyMap<string, Alleles>, loci: readonly string[]): string {
  return loci.map((id) => alleles.get(id)!.join('/')).join();
}

function tooEntangled(what: string): FaultsError {
  return new FaultsError([
    {
      code: 'TOO_ENTANGLED',
      message: `This question needs more than ${MOST_HELD.toLocaleString('en')} ${what} at a time.`,
      remedy: 'Ask fewer loci together, or give loci that are independent as independent sets.',
      ids: [],
    },
  ]);
}
