import type { RuleInput } from '@scutewright/genetics';

export interface LocusNames {
  readonly before: string;
  readonly after: string;
  /** New names of alleles by their old ones. */
  readonly alleles: ReadonlyMap<string, string>;
}

/** The rule with a locus and its alleles called by their new names; what no name stands for stays as it is. */
export function renameInRule(rule: RuleInput, names: LocusNames): RuleInput {
  if ('all' in rule) return { all: rule.all.map((part) => renameInRule(part, names)) };
  if ('any' in rule) return { any: rule.any.map((part) => renameInRule(part, names)) };
  if ('not' in rule) return { not: renameInRule(rule.not, names) };
  if (!('locus' in rule) || rule.locus !== names.before) return rule;
  const renamed = (genotype: string) =>
    genotype
      .split('/')
      .map((allele) => names.alleles.get(allele) ?? allele)
      .join('/');
  return { locus: names.after, genotypes: rule.genotypes.map(renamed) };
}
