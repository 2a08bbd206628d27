import { FaultsError, Fraction, invariant } from '@scutewright/basics';
import type { Cross } from './cross-input.js';
import type { Sex } from './locus.js';
import type { Block, MixtureState, ParentState } from './parents-input.js';
import { type Rule, subjectsOf } from './rule.js';
import { decidedClass, formKey, settleClasses } from './trait.js';
import { type Alleles, type Unit, unitYoung, youngParts } from './unit-young.js';

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
  if (sire === undefined && cross.sires.length > 1) return overSires(cross, question);
  const asked = askedUnits(cross, question);
  let forms = startForms(cross, question);
  for (const { block, units } of asked) {
    const states = projected(block, units, [sire ?? 0]);
    const parts = states.reduce((common, { weight }) => common * share(weight, common), 1n);
    const mixed: Forms = { parts: parts * forms.parts * partsOf(units), list: new Map() };
    for (const state of states) {
      const scale = (state.weight.numerator * parts) / state.weight.denominator;
      for (const [key, form] of advanced(forms, units, state, 0, question).list) {
        addForm(mixed, key, { ...form, share: form.share * scale });
      }
    }
    forms = mixed;
  }
  return outcomesOf(forms, cross, question);
}

/** What `common` lacks to be a multiple of the weight's denominator. */
function share(weight: Fraction, common: bigint): bigint {
  return Fraction.of(common, weight.denominator).denominator;
}

function overSires(cross: Cross, question: Question): Outcome[] {
  const mixed = new Map<string, Outcome>();
  for (const [k, { probability }] of cross.sires.entries()) {
    if (probability.isZero) continue;
    for (const outcome of youngOutcomes(cross, question, k)) {
      const key = `${outcome.sex}|${outcome.classes}|${outcome.genotypes}`;
      const own = outcome.probability.times(probability);
      const known = mixed.get(key)?.probability;
      mixed.set(key, { ...outcome, probability: known ? known.plus(own) : own });
    }
  }
  return [...mixed.values()];
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
  const start = startForms(cross, question);
  let held = [{ weight: Fraction.one, bySire: sires.map(() => start) }];
  for (const { block, units } of askedUnits(cross, question)) {
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

/** The units that the question looks at, by independent set of parents. */
function askedUnits(
  cross: Cross,
  question: Question,
): { readonly block: Block; readonly units: readonly Unit[] }[] {
  const asked = new Set([...subjectsOf(question.classes.flat()).loci, ...question.loci]);
  return cross.blocks
    .map((block) => ({
      block,
      units: block.units.filter((unit) => unit.loci.some((locus) => asked.has(locus.id))),
    }))
    .filter(({ units }) => units.length > 0);
}

/** A young of which some loci are known: what is left of the rules, and the genotypes asked so far. */
interface Form {
  /** Null while the sex does not matter. */
  readonly sex: Sex | null;
  readonly rules: readonly (readonly Rule[])[];
  readonly rulesKey: string;
  /** `locus position, genotype` pairs, in the order of the units. */
  readonly genotypes: readonly (readonly [number, number])[];
  readonly share: bigint;
}

/** Forms by key; their shares are over the common denominator `parts`. */
interface Forms {
  readonly parts: bigint;
  readonly list: Map<string, Form>;
}

function startForms(cross: Cross, question: Question): Forms {
  const list = new Map<string, Form>();
  const settled = question.classes.map((rules) => settleClasses(rules, { ageDays: cross.ageDays }));
  if (!asksSex(cross, question)) {
    const rulesKey = settled.map(formKey).join('&');
    list.set('', { sex: null, rules: settled, rulesKey, genotypes: [], share: 1n });
    return { parts: 1n, list };
  }
  const { numerator, denominator } = cross.maleShare;
  for (const [sex, portion] of [
    ['m', numerator],
    ['f', denominator - numerator],
  ] as const) {
    if (portion === 0n) continue;
    const rules = settled.map((each) => settleClasses(each, { sex }));
    const rulesKey = rules.map(formKey).join('&');
    list.set(sex, { sex, rules, rulesKey, genotypes: [], share: portion });
  }
  return { parts: denominator, list };
}

function asksSex(cross: Cross, question: Question): boolean {
  const { sex, loci } = subjectsOf(question.classes.flat());
  const isLinked = (id: string): boolean => cross.loci.get(id)!.inheritance !== 'autosomal';
  return sex || [...loci, ...question.loci].some(isLinked);
}

function partsOf(units: readonly Unit[]): bigint {
  return units.reduce((product, unit) => product * youngParts(unit), 1n);
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
    const next: Forms = { parts: current.parts * youngParts(unit), list: new Map() };
    const dam = unit.loci.map((locus) => state.dam.get(locus.id)!);
    const male = unit.loci.map((locus) => state.sires[sire].get(locus.id)!);
    const young = { m: unitYoung(unit, male, dam, 'm'), f: unitYoung(unit, male, dam, 'f') };
    const asked = unit.loci.map((locus) => question.loci.indexOf(locus.id));
    // Forms that differ only in the genotypes asked have the same rules left: settle them once.
    const settled = new Map<string, { rules: Form['rules']; rulesKey: string }>();
    for (const form of current.list.values()) {
      for (const [i, { genotypes, share: portion }] of young[form.sex ?? 'm'].entries()) {
        const settledKey = `${form.sex}${i}|${form.rulesKey}`;
        let left = settled.get(settledKey);
        if (!left) {
          left = settledBy(form.rules, unit, genotypes);
          settled.set(settledKey, left);
        }
        const found = asked.flatMap((at, j) => (at === -1 ? [] : [[at, genotypes[j]] as const]));
        const known = found.length > 0 ? [...form.genotypes, ...found] : form.genotypes;
        addForm(next, `${form.sex}|${left.rulesKey}|${known.join()}`, {
          sex: form.sex,
          rules: left.rules,
          rulesKey: left.rulesKey,
          genotypes: known,
          share: form.share * portion,
        });
      }
    }
    current = next;
  }
  return current;
}

function settledBy(
  rules: Form['rules'],
  unit: Unit,
  genotypes: readonly number[],
): { readonly rules: Form['rules']; readonly rulesKey: string } {
  const left = rules.map((list) =>
    unit.loci.reduce(
      (so, locus, i) => settleClasses(so, { locus: locus.id, genotype: genotypes[i] }),
      list,
    ),
  );
  return { rules: left, rulesKey: left.map(formKey).join('&') };
}

function addForm(forms: Forms, key: string, form: Form): void {
  const same = forms.list.get(key);
  forms.list.set(key, same ? { ...form, share: same.share + form.share } : form);
  if (forms.list.size > MOST_HELD) throw tooEntangled('combinations');
}

/** Equal for forms that will answer alike: the denominators after a unit do not depend on the parents. */
function formsKey(forms: Forms): string {
  const parts = [...forms.list].map(([key, form]) => `${key}=${form.share}`);
  return parts.sort().join(' ');
}

function outcomesOf(forms: Forms, cross: Cross, question: Question): Outcome[] {
  return [...forms.list.values()].flatMap((form) => {
    const classes = form.rules.map((rules) => {
      const decided = decidedClass(rules);
      invariant(decided !== null, 'a rule stays open though every locus it names is known');
      return decided;
    });
    const genotypes = new Array<number>(question.loci.length);
    for (const [at, genotype] of form.genotypes) genotypes[at] = genotype;
    const probability = Fraction.of(form.share, forms.parts);
    if (form.sex) return [{ sex: form.sex, classes, genotypes, probability }];
    return (['m', 'f'] as const).flatMap((sex) => {
      const ofSex = sex === 'm' ? cross.maleShare : cross.maleShare.complement();
      return ofSex.isZero
        ? []
        : [{ sex, classes, genotypes, probability: probability.times(ofSex) }];
    });
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
