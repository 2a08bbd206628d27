import { type Locus, type RuleInput, type ShownTrait, writeRuleText } from '@scutewright/genetics';

/** What plain choices can say of a rule: genotypes of one gene, perhaps from an age on, perhaps in one sex. */
export interface PlainChoices {
  readonly locus: string;
  readonly genotypes: readonly string[];
  readonly fromDays: number | null;
  readonly sex: 'm' | 'f' | null;
}

/** The plain choices that make the rule; null where it says more than they can. */
export function plainChoices(rule: RuleInput): PlainChoices | null {
  const parts = 'all' in rule ? rule.all : [rule];
  const [genotypes, ...others] = parts.filter((part) => 'locus' in part);
  const ages = parts.filter((part) => 'fromDays' in part);
  const sexes = parts.filter((part) => 'sex' in part);
  const isPlain = 1 + ages.length + sexes.length === parts.length;
  if (!genotypes || others.length > 0 || !isPlain || ages.length > 1 || sexes.length > 1) {
    return null;
  }
  const { locus } = genotypes;
  return {
    locus,
    genotypes: genotypes.genotypes,
    fromDays: ages[0]?.fromDays ?? null,
    sex: sexes[0]?.sex ?? null,
  };
}

/** `An animal is pale when it has two copies of p at the gene pl, from 2 years on.` */
export function ruleSentence(
  name: string,
  rule: RuleInput,
  loci: ReadonlyMap<string, Locus>,
): string {
  const plain = plainChoices(rule);
  const locus = plain && loci.get(plain.locus);
  if (!plain || !locus) return `An animal is ${name} when ${writeRuleText(rule)}.`;
  const who = plain.sex === 'm' ? 'A male' : plain.sex === 'f' ? 'A female' : 'An animal';
  const age = plain.fromDays ? `, from ${ageWords(plain.fromDays)} on` : '';
  const has = genotypeWords(plain.genotypes, locus);
  return `${who} is ${name} when it has ${has} at the gene ${locus.id}${age}.`;
}

function genotypeWords(genotypes: readonly string[], { alleles }: Locus): string {
  const [common, ...rarer] = alleles;
  for (const allele of rarer) {
    const one = [`${common}/${allele}`, `${allele}/${common}`];
    const two = `${allele}/${allele}`;
    const hasOne = genotypes.some((each) => one.includes(each));
    const hasTwo = genotypes.includes(two);
    const single = genotypes.includes(allele);
    if (Number(hasOne) + Number(hasTwo) + Number(single) !== genotypes.length) continue;
    const copies = hasOne ? (hasTwo ? 'one or two copies' : 'one copy') : 'two copies';
    return `${copies} of ${allele}${single ? ' (or its only copy)' : ''}`;
  }
  return genotypes.join(' or ');
}

const DAYS_OF_YEAR = 365.25;

/** Whole years and months where they fit, else days. */
export function ageWords(days: number): string {
  const count = (n: number, unit: string) => `${n} ${unit}${n === 1 ? '' : 's'}`;
  const years = Math.round(days / DAYS_OF_YEAR);
  if (years > 0 && Math.abs(days - years * DAYS_OF_YEAR) <= 2) return count(years, 'year');
  const months = Math.round((days / DAYS_OF_YEAR) * 12);
  if (months > 0 && Math.abs(days - (months * DAYS_OF_YEAR) / 12) <= 2)
    return count(months, 'month');
  return count(days, 'day');
}

/** `pale; pale young while young`, or `plain`. */
export function lookWords(shows: readonly ShownTrait[]): string {
  if (shows.length === 0) return 'plain';
  return shows
    .map(({ trait, young, grown, sex }) => {
      const age = young && grown ? '' : young ? ' while young' : ' when grown';
      const who = sex === null ? '' : sex === 'm' ? ', males only' : ', females only';
      return `${trait}${age}${who}`;
    })
    .join('; ');
}

export function gapWords(traits: readonly string[]): string {
  if (traits.length === 0) return 'No trait says what it looks like.';
  return `${traits.map((trait) => `'${trait}'`).join(' and ')} both claim it: an animal cannot be told apart by them.`;
}
