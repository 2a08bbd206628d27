import { Fraction } from '@scutewright/basics';
import type {
  CrossInput,
  GenotypesInput,
  MixtureInput,
  RuleInput,
  Sex,
} from '@scutewright/genetics';

/** One young with everything written out. */
export interface SlowYoung {
  readonly sex: Sex;
  readonly genotypes: Readonly<Record<string, string>>;
  readonly probability: Fraction;
}

/** The textbook: every gamete of every parent at all loci at once, each sex apart, nothing joined. */
export function slowYoung(
  input: CrossInput,
  sire: GenotypesInput,
  dam: GenotypesInput,
): SlowYoung[] {
  const young: SlowYoung[] = [];
  const maleShare = Fraction.parse(input.maleShare ?? '1/2');
  for (const sex of ['m', 'f'] as const) {
    const share = sex === 'm' ? maleShare : maleShare.complement();
    for (const a of slowGametes(input, sire, 'm', sex)) {
      for (const b of slowGametes(input, dam, 'f', sex)) {
        const genotypes = Object.fromEntries(
          input.loci.map(({ id, alleles }) => {
            const pair = [a.alleles[id], b.alleles[id]].filter((allele) => allele !== null);
            return [id, pair.sort((x, y) => alleles.indexOf(x) - alleles.indexOf(y)).join('/')];
          }),
        );
        young.push({ sex, genotypes, probability: share.times(a.share).times(b.share) });
      }
    }
  }
  return young;
}

interface SlowGamete {
  readonly alleles: Readonly<Record<string, string | null>>;
  readonly share: Fraction;
}

/** Which of the two chromosomes is taken at each locus: all 2^loci choices, weighed by the links. */
function slowGametes(input: CrossInput, parent: GenotypesInput, own: Sex, sex: Sex): SlowGamete[] {
  let gametes: {
    taken: Record<string, number>;
    alleles: Record<string, string | null>;
    share: Fraction;
  }[] = [{ taken: {}, alleles: {}, share: Fraction.one }];
  for (const { id } of input.loci) {
    const names = parent[id].split('/');
    if (names.length === 1) {
      const allele = sex === own ? null : names[0];
      gametes = gametes.map((g) => ({ ...g, alleles: { ...g.alleles, [id]: allele } }));
      continue;
    }
    gametes = gametes.flatMap((gamete) =>
      [0, 1].map((choice) => {
        const link = (input.linkage ?? []).find(({ loci }) => loci.includes(id));
        const other = link?.loci.find((locus) => locus !== id);
        const before = other === undefined ? undefined : gamete.taken[other];
        const r = Fraction.parse(link?.r ?? '1/2');
        const chance =
          before === undefined ? Fraction.half : before === choice ? r.complement() : r;
        return {
          taken: { ...gamete.taken, [id]: choice },
          alleles: { ...gamete.alleles, [id]: names[choice] },
          share: gamete.share.times(chance),
        };
      }),
    );
  }
  return gametes;
}

export function slowHolds(rule: RuleInput, young: SlowYoung, ageDays = Infinity): boolean {
  if ('locus' in rule) {
    const sorted = (text: string): string => text.split('/').sort().join('/');
    return rule.genotypes.map(sorted).includes(sorted(young.genotypes[rule.locus]));
  }
  if ('all' in rule) return rule.all.every((part) => slowHolds(part, young, ageDays));
  if ('any' in rule) return rule.any.some((part) => slowHolds(part, young, ageDays));
  if ('not' in rule) return !slowHolds(rule.not, young, ageDays);
  if ('sex' in rule) return young.sex === rule.sex;
  return ageDays >= rule.fromDays;
}

/** Class shown: the first rule that holds. */
export function slowClass(input: CrossInput, trait: number, young: SlowYoung): string {
  const { classes, otherwise, when } = input.traits![trait];
  if (when) return slowHolds(when, young, input.ageDays) ? 'shown' : 'not shown';
  const found = classes!.find((entry) => slowHolds(entry.when, young, input.ageDays));
  return found?.name ?? otherwise!;
}

export function rowsOf(
  mixture: MixtureInput,
): { readonly probability: Fraction; readonly genotypes: GenotypesInput }[] {
  if (!Array.isArray(mixture)) {
    return [{ probability: Fraction.one, genotypes: mixture as GenotypesInput }];
  }
  return mixture.map(({ probability, genotypes }) => ({
    probability: Fraction.parse(probability),
    genotypes,
  }));
}

/** Every young of every pair of parents that sire and dam (independent) may be, weighed. */
export function slowMixture(input: CrossInput): SlowYoung[] {
  return rowsOf(input.sire!).flatMap((sire) =>
    rowsOf(input.dam!).flatMap((dam) =>
      slowYoung(input, sire.genotypes, dam.genotypes).map((young) => ({
        ...young,
        probability: young.probability.times(sire.probability).times(dam.probability),
      })),
    ),
  );
}

export function slowTotal(
  young: readonly SlowYoung[],
  holds: (each: SlowYoung) => boolean = () => true,
): Fraction {
  return young.reduce(
    (sum, each) => (holds(each) ? sum.plus(each.probability) : sum),
    Fraction.zero,
  );
}
