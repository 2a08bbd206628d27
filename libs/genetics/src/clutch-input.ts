import { type Fault, FaultsError, Fraction } from '@scutewright/basics';
import { type Cross, type CrossInput, readCross } from './cross-input.js';
import { parseGenotype } from './genotype.js';
import { probability } from './probability.js';
import {
  all,
  any,
  genotypeRule,
  not,
  type Rule,
  type RuleInput,
  readRule,
  unknownGenotype,
} from './rule.js';

/** How the young of one clutch come by their sires; as in the pedigree. A rate is a number or a text such as `3/10`. */
export type PaternityInput =
  | 'ONE_SIRE'
  | 'EACH_OWN_SIRE'
  | { readonly kind: 'ONE_SIRE' | 'EACH_OWN_SIRE' }
  | { readonly kind: 'MIXED' | 'TWO_SIRES'; readonly rate: string | number };

/** A clutch of a pairing, or several clutches of the same pair, over seasons or within one. */
export interface ClutchInput extends CrossInput {
  /** Eggs laid: of one clutch, or one number for each clutch of the pair. At most 10,000 together. */
  readonly eggs: number | readonly number[];
  /** Chance that an egg which carries nothing lethal hatches; 1 by default. */
  readonly hatch?: string | number;
  /** Id of the trait whose class is `target`; or a text such as `visual = a/a` that names the genotypes wanted. */
  readonly trait?: string;
  /** A class of `trait`, or a rule over genotypes. */
  readonly target?: string | RuleInput;
  /** `ONE_SIRE` by default. Matters only with several candidate sires. */
  readonly paternity?: PaternityInput;
  /** Earlier clutches of the same pair: young looked at, and how many of them were of the target. */
  readonly seen?: readonly { readonly looked: number; readonly target: number }[];
  /** Levels for 'eggs needed'; 9/10, 19/20 and 99/100 by default. */
  readonly levels?: readonly (string | number)[];
}

export interface Paternity {
  readonly kind: 'ONE_SIRE' | 'EACH_OWN_SIRE' | 'MIXED' | 'TWO_SIRES';
  readonly rate: Fraction;
}

export interface Clutches {
  readonly cross: Cross;
  readonly eggs: readonly number[];
  readonly hatch: Fraction;
  readonly target: Rule;
  readonly paternity: Paternity;
  readonly seen: readonly { readonly looked: number; readonly target: number }[];
  readonly levels: readonly Fraction[];
}

export const MOST_EGGS = 10_000;

/** Checks a clutch question; the faults of `readCross` first, then `UNKNOWN_TARGET`, `BAD_EGGS`, `BAD_PROBABILITY`, `BAD_COUNTS`. */
export function readClutches(input: ClutchInput): Clutches {
  const cross = readCross(input);
  const faults: Fault[] = [];
  const eggs = typeof input.eggs === 'number' ? [input.eggs] : input.eggs;
  checkEggs(eggs, faults);
  const clutches = {
    cross,
    eggs,
    hatch: probability(input.hatch ?? 1, 'The hatch rate', faults),
    target: readTarget(input, cross, faults),
    paternity: readPaternity(input.paternity ?? 'ONE_SIRE', faults),
    seen: input.seen ?? [],
    levels: (input.levels ?? ['9/10', '19/20', '99/100']).map((level) =>
      probability(level, 'A level', faults),
    ),
  };
  for (const { looked, target } of clutches.seen) {
    if (isCount(looked) && isCount(target) && target <= looked && looked <= MOST_EGGS) continue;
    faults.push({
      code: 'BAD_COUNTS',
      message: `${target} of ${looked} young cannot have been seen.`,
      remedy: `Give whole numbers up to ${MOST_EGGS}, the second at most the first.`,
      ids: [],
    });
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return clutches;
}

function isCount(value: number): boolean {
  return Number.isSafeInteger(value) && value >= 0;
}

function checkEggs(eggs: readonly number[], faults: Fault[]): void {
  const total = eggs.reduce((sum, each) => sum + each, 0);
  if (eggs.length > 0 && eggs.every(isCount) && total <= MOST_EGGS) return;
  faults.push({
    code: 'BAD_EGGS',
    message: `'${eggs.join(', ')}' cannot be the eggs laid.`,
    remedy: `Give whole numbers of at least 0, together at most ${MOST_EGGS.toLocaleString('en')}.`,
    ids: [],
  });
}

function readPaternity(input: PaternityInput, faults: Fault[]): Paternity {
  if (typeof input === 'string') return { kind: input, rate: Fraction.zero };
  if (!('rate' in input)) return { kind: input.kind, rate: Fraction.zero };
  return {
    kind: input.kind,
    rate: probability(input.rate, 'The rate of several sires', faults),
  };
}

/** The rule of the target, whichever way it was given. */
export function readTarget(
  input: Pick<ClutchInput, 'trait' | 'target'>,
  cross: Cross,
  faults: Fault[],
): Rule {
  if (typeof input.target === 'object') {
    return readRule(input.target, cross.loci, 'The target', faults);
  }
  const trait = cross.traits.get(input.trait ?? '');
  const position = trait?.classes.indexOf(input.target ?? trait.classes[0]) ?? -1;
  if (trait && position !== -1) return classRule(trait.rules, position);
  const named = /^[^=]*=(.+)$/.exec(input.trait ?? '');
  if (named && !trait) return readNamedGenotypes(named[1], cross, faults);
  faults.push({
    code: 'UNKNOWN_TARGET',
    message: `The target '${input.target ?? ''}' of the trait '${input.trait ?? ''}' is not defined.`,
    remedy: 'Name a trait and one of its classes, or give a rule over genotypes.',
    ids: [],
  });
  return any([]);
}

/** One rule that holds when this class is the first of the list to hold. */
function classRule(rules: readonly Rule[], position: number): Rule {
  const before = any(rules.slice(0, position));
  const own = position < rules.length ? [rules[position]] : [];
  return all([not(before), ...own]);
}

/** `a/a` or `a/a, a/b`: genotypes of the one locus that has them. */
function readNamedGenotypes(text: string, cross: Cross, faults: Fault[]): Rule {
  const texts = text.split(',').map((part) => part.trim());
  const [first] = cross.loci.values();
  const locus = [...cross.loci.values()].filter((candidate) =>
    texts.every((each) => parseGenotype(candidate, each) !== null),
  );
  if (locus.length !== 1) {
    faults.push(unknownGenotype(locus[0] ?? first, text.trim(), 'The target (over one locus)'));
    return any([]);
  }
  return genotypeRule(locus[0].id, new Set(texts.map((each) => parseGenotype(locus[0], each)!)));
}
