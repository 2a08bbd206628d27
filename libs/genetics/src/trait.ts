import { type Fault, FaultsError, invariant } from '@scutewright/basics';
import { genotypeRange } from './genotype.js';
import type { Locus, Sex } from './locus.js';
import { type Known, type Rule, type RuleInput, readRule, settle, subjectsOf } from './rule.js';

/**
 * A visible trait as a caller writes it. Either `classes`, of which the first whose rule holds is shown, with
 * `otherwise` for all the rest; or only `when`: then the classes are `shown` and `not shown`.
 */
export interface TraitInput {
  readonly id: string;
  readonly classes?: readonly { readonly name: string; readonly when: RuleInput }[];
  readonly otherwise?: string;
  readonly when?: RuleInput;
}

export interface Trait {
  readonly id: string;
  /** Names of what can be seen, in the order of the rules; `otherwise` last. */
  readonly classes: readonly string[];
  /** One rule per class but the last; the first that holds decides. */
  readonly rules: readonly Rule[];
  /** Ids of the loci that matter, in order of appearance. */
  readonly loci: readonly string[];
  /** Whether the sex of the animal matters. */
  readonly bySex: boolean;
  /** Ages in days at which what is seen may change, ascending. */
  readonly ages: readonly number[];
}

/** Distinct half-decided forms of one trait's rules that are held at a time, at most. */
const MOST_FORMS = 100_000;

/**
 * Checks traits against the loci. Throws one FaultsError with every fault: those of `readRule`, and
 * `DUPLICATE_TRAIT`, `DUPLICATE_CLASS`, `NO_CLASSES`, `RULE_NEVER_MET` (no genotype shows the class, or earlier rules take all that do),
 * `UNCOVERED` (a genotype that no rule takes, and no `otherwise`), `TOO_ENTANGLED`.
 */
export function readTraits(
  inputs: readonly TraitInput[],
  loci: ReadonlyMap<string, Locus>,
): ReadonlyMap<string, Trait> {
  const traits = new Map<string, Trait>();
  const faults: Fault[] = [];
  for (const input of inputs) {
    if (traits.has(input.id)) {
      faults.push({
        code: 'DUPLICATE_TRAIT',
        message: `The trait '${input.id}' is defined twice.`,
        remedy: 'Give each trait its own name.',
        ids: [input.id],
      });
    }
    traits.set(input.id, readTrait(input, loci, faults));
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return traits;
}

function readTrait(input: TraitInput, loci: ReadonlyMap<string, Locus>, faults: Fault[]): Trait {
  const fault = (code: string, message: string, remedy: string): void => {
    faults.push({ code, message, remedy, ids: [input.id] });
  };
  const before = faults.length;
  const listed =
    input.classes ?? (input.when === undefined ? [] : [{ name: 'shown', when: input.when }]);
  const otherwise = input.classes ? input.otherwise : 'not shown';
  if (listed.length === 0) {
    fault('NO_CLASSES', `The trait '${input.id}' has no rule.`, 'Say which genotypes show it.');
  }
  const rules = listed.map((entry) =>
    readRule(entry.when, loci, `The class '${entry.name}' of the trait '${input.id}'`, faults),
  );
  const subjects = subjectsOf(rules);
  const classes = listed.map((entry) => entry.name);
  if (otherwise !== undefined) classes.push(otherwise);
  for (const [position, name] of classes.entries()) {
    if (classes.indexOf(name) === position) continue;
    fault(
      'DUPLICATE_CLASS',
      `The trait '${input.id}' names the class '${name}' twice.`,
      "Join their rules with 'any'.",
    );
  }
  const trait = {
    id: input.id,
    classes,
    rules,
    loci: subjects.loci,
    bySex: subjects.sex,
    ages: subjects.ages,
  };
  if (faults.length === before) checkCover(trait, otherwise !== undefined, loci, fault);
  return trait;
}

/** Every class must be met by some genotype, and every genotype by some class. */
function checkCover(
  trait: Trait,
  hasOtherwise: boolean,
  loci: ReadonlyMap<string, Locus>,
  fault: (code: string, message: string, remedy: string) => void,
): void {
  const met = reachableClasses(trait, loci);
  if (met === null) {
    fault(
      'TOO_ENTANGLED',
      `The rules of the trait '${trait.id}' are too entangled to check.`,
      'Split it into several traits.',
    );
    return;
  }
  for (const [position, name] of trait.classes.entries()) {
    if (position === trait.rules.length || met.has(position)) continue;
    fault(
      'RULE_NEVER_MET',
      `No genotype shows the class '${name}' of the trait '${trait.id}'.`,
      'Mend its rule, or put it before the rules that take its genotypes.',
    );
  }
  if (!hasOtherwise && met.has(trait.rules.length)) {
    fault(
      'UNCOVERED',
      `Some genotypes meet no rule of the trait '${trait.id}'.`,
      "Say with 'otherwise' what they look like.",
    );
  }
}

/** Positions of the classes that some animal of either sex and some age shows; null beyond `MOST_FORMS`. */
function reachableClasses(
  trait: Trait,
  loci: ReadonlyMap<string, Locus>,
): ReadonlySet<number> | null {
  const met = new Set<number>();
  for (const ageDays of [0, ...trait.ages]) {
    for (const sex of ['m', 'f'] as const) {
      let forms = new Map([['', settleClasses(settleClasses(trait.rules, { sex }), { ageDays })]]);
      for (const id of trait.loci) {
        const { from, to } = genotypeRange(loci.get(id)!, sex);
        const next = new Map<string, readonly Rule[]>();
        for (const rules of forms.values()) {
          for (let genotype = from; genotype < to; genotype++) {
            const left = settleClasses(rules, { locus: id, genotype });
            next.set(formKey(left), left);
          }
        }
        if (next.size > MOST_FORMS) return null;
        forms = next;
      }
      for (const rules of forms.values()) met.add(decidedClass(rules)!);
    }
  }
  return met;
}

/** The rules of a trait's classes once one more thing is known; those after a rule that holds are dropped. */
export function settleClasses(rules: readonly Rule[], known: Known): readonly Rule[] {
  const left: Rule[] = [];
  for (const rule of rules) {
    const settled = settle(rule, known);
    left.push(settled);
    if (settled.kind === 'always') break;
  }
  return left;
}

/** Equal for half-decided rules that will decide alike. */
export function formKey(rules: readonly Rule[]): string {
  return rules.map((rule) => rule.key).join(';');
}

/** Position of the class that is already decided (the number of rules for 'otherwise'), or null while still open. */
export function decidedClass(rules: readonly Rule[]): number | null {
  for (const [position, rule] of rules.entries()) {
    if (rule.kind === 'always') return position;
    if (rule.kind !== 'never') return null;
  }
  return rules.length;
}

/** An animal looked at. `sex` null: not known, allowed where the trait does not ask for it. */
export interface Looked {
  /** Position in `locus.genotypes` at each locus of the trait. */
  readonly genotypes: Readonly<Record<string, number>>;
  readonly sex: Sex | null;
  /** Infinity for 'fully grown'. */
  readonly ageDays: number;
}

/**
 * Position in `trait.classes` of what the animal shows. Throws when the trait depends on the sex and it is
 * null, or a genotype is missing.
 */
export function traitClass(trait: Trait, animal: Looked): number {
  let rules = settleClasses(trait.rules, { ageDays: animal.ageDays });
  if (animal.sex) rules = settleClasses(rules, { sex: animal.sex });
  for (const locus of trait.loci) {
    const genotype = animal.genotypes[locus];
    if (genotype !== undefined) rules = settleClasses(rules, { locus, genotype });
  }
  const decided = decidedClass(rules);
  invariant(decided !== null, `the trait ${trait.id} is asked of an animal not fully known`);
  return decided;
}
