import { type Fault, nearest } from '@scutewright/basics';
import { parseGenotype } from './genotype.js';
import type { Locus, Sex } from './locus.js';

/**
 * A rule as a caller writes it: genotypes of a locus, rules joined, or a condition on the animal's sex or its
 * age in days when it is looked at (`{all: [rule, {sex: 'm'}]}` for a trait that only males show).
 */
export type RuleInput =
  | { readonly locus: string; readonly genotypes: readonly string[] }
  | { readonly all: readonly RuleInput[] }
  | { readonly any: readonly RuleInput[] }
  | { readonly not: RuleInput }
  | { readonly sex: Sex }
  | { readonly fromDays: number };

/** A checked rule. `key` is equal for rules written alike, so that it can stand for the rule in a map. */
export type Rule =
  | { readonly kind: 'always' | 'never'; readonly key: string }
  | {
      readonly kind: 'genotypes';
      readonly locus: string;
      readonly genotypes: ReadonlySet<number>;
      readonly key: string;
    }
  | { readonly kind: 'all' | 'any'; readonly parts: readonly Rule[]; readonly key: string }
  | { readonly kind: 'not'; readonly part: Rule; readonly key: string }
  | { readonly kind: 'sex'; readonly sex: Sex; readonly key: string }
  | { readonly kind: 'age'; readonly fromDays: number; readonly key: string };

export const ALWAYS: Rule = { kind: 'always', key: 'T' };
export const NEVER: Rule = { kind: 'never', key: 'F' };

/**
 * Checks a rule against the loci; adds its faults (`UNKNOWN_RULE`, `UNKNOWN_LOCUS`, `UNKNOWN_GENOTYPE`) to
 * `faults` and answers a rule in any case, so that all faults are found in one go. `where` names the rule in messages.
 */
export function readRule(
  input: RuleInput,
  loci: ReadonlyMap<string, Locus>,
  where: string,
  faults: Fault[],
): Rule {
  if ('locus' in input && Array.isArray(input.genotypes)) {
    return readGenotypeRule(input.locus, input.genotypes, loci, where, faults);
  }
  if ('all' in input && Array.isArray(input.all)) {
    return all(input.all.map((part) => readRule(part, loci, where, faults)));
  }
  if ('any' in input && Array.isArray(input.any)) {
    return any(input.any.map((part) => readRule(part, loci, where, faults)));
  }
  if ('not' in input) return not(readRule(input.not, loci, where, faults));
  if ('sex' in input && (input.sex === 'm' || input.sex === 'f')) {
    return { kind: 'sex', sex: input.sex, key: `sex=${input.sex}` };
  }
  if ('fromDays' in input && input.fromDays >= 0) {
    return { kind: 'age', fromDays: input.fromDays, key: `age>=${input.fromDays}` };
  }
  faults.push({
    code: 'UNKNOWN_RULE',
    message: `${where} has a rule that cannot be read: ${JSON.stringify(input)}.`,
    remedy: 'Use locus with genotypes, all, any, not, sex (m or f) or fromDays.',
    ids: [],
  });
  return NEVER;
}

function readGenotypeRule(
  locusId: string,
  texts: readonly string[],
  loci: ReadonlyMap<string, Locus>,
  where: string,
  faults: Fault[],
): Rule {
  const locus = loci.get(locusId);
  if (!locus) {
    const [close] = nearest(locusId, loci.keys(), 1);
    faults.push({
      code: 'UNKNOWN_LOCUS',
      message: `${where} speaks of the locus '${locusId}', which is not defined.`,
      remedy: close ? `Did you mean '${close}'?` : 'Define the locus first.',
      ids: [locusId],
    });
    return NEVER;
  }
  const genotypes = new Set<number>();
  for (const text of texts) {
    const genotype = parseGenotype(locus, text);
    if (genotype !== null) genotypes.add(genotype);
    else faults.push(unknownGenotype(locus, text, where));
  }
  return genotypeRule(locusId, genotypes);
}

/** The fault of a genotype text that the locus does not have. */
export function unknownGenotype(locus: Locus, text: string, where: string): Fault {
  return {
    code: 'UNKNOWN_GENOTYPE',
    message: `${where} has '${text}', which is no genotype of the locus '${locus.id}'.`,
    remedy: `Its alleles are ${locus.alleles.join(', ')}; write ${locus.genotypes[0]?.text ?? 'a/b'}${
      locus.inheritance === 'autosomal' ? '' : `, or ${locus.alleles[0]} where there is one copy`
    }.`,
    ids: [locus.id],
  };
}

export function genotypeRule(locus: string, genotypes: ReadonlySet<number>): Rule {
  const list = [...genotypes].sort((a, b) => a - b);
  return { kind: 'genotypes', locus, genotypes, key: `${JSON.stringify(locus)}:${list}` };
}

/** True when every part holds; `all([])` always does. */
export function all(parts: readonly Rule[]): Rule {
  return join('all', parts, NEVER, ALWAYS);
}

/** True when at least one part holds; `any([])` never does. */
export function any(parts: readonly Rule[]): Rule {
  return join('any', parts, ALWAYS, NEVER);
}

function join(kind: 'all' | 'any', parts: readonly Rule[], deciding: Rule, idle: Rule): Rule {
  const open = new Map<string, Rule>();
  for (const part of parts) {
    if (part.key === deciding.key) return deciding;
    if (part.key !== idle.key) open.set(part.key, part);
  }
  const left = [...open.values()];
  if (left.length === 0) return idle;
  if (left.length === 1) return left[0];
  return { kind, parts: left, key: `${kind}(${left.map((part) => part.key).join(',')})` };
}

export function not(part: Rule): Rule {
  if (part.kind === 'always') return NEVER;
  if (part.kind === 'never') return ALWAYS;
  if (part.kind === 'not') return part.part;
  return { kind: 'not', part, key: `not(${part.key})` };
}

/** One thing known of an animal. */
export type Known =
  | { readonly locus: string; readonly genotype: number }
  | { readonly sex: Sex }
  | { readonly ageDays: number };

/** What is left of a rule once one more thing is known: `ALWAYS`, `NEVER` or a smaller rule. */
export function settle(rule: Rule, known: Known): Rule {
  switch (rule.kind) {
    case 'genotypes':
      if (!('locus' in known) || known.locus !== rule.locus) return rule;
      return rule.genotypes.has(known.genotype) ? ALWAYS : NEVER;
    case 'all':
      return all(rule.parts.map((part) => settle(part, known)));
    case 'any':
      return any(rule.parts.map((part) => settle(part, known)));
    case 'not':
      return not(settle(rule.part, known));
    case 'sex':
      if (!('sex' in known)) return rule;
      return known.sex === rule.sex ? ALWAYS : NEVER;
    case 'age':
      if (!('ageDays' in known)) return rule;
      return known.ageDays >= rule.fromDays ? ALWAYS : NEVER;
    default:
      return rule;
  }
}

/** What a rule speaks of: its loci in order of appearance, whether of sex, and its ages in days, ascending. */
export interface RuleSubjects {
  readonly loci: readonly string[];
  readonly sex: boolean;
  readonly ages: readonly number[];
}

export function subjectsOf(rules: readonly Rule[]): RuleSubjects {
  const loci = new Set<string>();
  const ages = new Set<number>();
  let sex = false;
  const visit = (rule: Rule): void => {
    if (rule.kind === 'genotypes') loci.add(rule.locus);
    else if (rule.kind === 'sex') sex = true;
    else if (rule.kind === 'age') ages.add(rule.fromDays);
    else if (rule.kind === 'not') visit(rule.part);
    else if (rule.kind === 'all' || rule.kind === 'any') rule.parts.forEach(visit);
  };
  rules.forEach(visit);
  return { loci: [...loci], sex, ages: [...ages].sort((a, b) => a - b) };
}
