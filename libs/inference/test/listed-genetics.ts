import type { ProgramInput } from '@scutewright/inference';

type Haplotype = readonly number[];
/** Two haplotypes in a fixed order; one at hemizygous loci is written twice and read once. */
type Diploid = readonly [Haplotype, Haplotype];
type Evidence = NonNullable<ProgramInput['evidence']>[number];
type Rule = Readonly<Record<string, unknown>>;

export interface Person {
  sex: 'm' | 'f';
  diploid: Diploid;
}

export const number = (value: string | number): number => {
  const [a, b] = String(value).split('/').map(Number);
  return b === undefined ? a : a / b;
};

/** Genotypes of base animals and of young, and what records say of them, by listing; for `bruteForce` alone. */
export class Genetics {
  private readonly memory = new Map<string, unknown>();
  private readonly groups: {
    loci: number[];
    haplotypes: { alleles: number[]; chance: number }[];
    r: number;
    oneGene: boolean;
  }[] = [];

  constructor(
    private readonly input: ProgramInput,
    oneGene: readonly boolean[],
  ) {
    const used = new Set<number>();
    const at = (id: string): number => input.loci.findIndex((locus) => locus.id === id);
    const q = (l: number): number[] =>
      input.loci[l].alleles.map((allele) => number(input.loci[l].frequencies![allele]));
    for (const [h, { loci }] of (input.allelism ?? []).entries()) {
      if (!oneGene[h]) continue;
      const [a, b] = loci.map(at);
      used.add(a).add(b);
      const mutants = [
        ...q(a)
          .slice(1)
          .map((c, i) => ({ alleles: [i + 1, 0], chance: c })),
        ...q(b)
          .slice(1)
          .map((c, i) => ({ alleles: [0, i + 1], chance: c })),
      ];
      const rest = 1 - mutants.reduce((sum, { chance }) => sum + chance, 0);
      this.groups.push({
        loci: [a, b],
        haplotypes: [{ alleles: [0, 0], chance: rest }, ...mutants],
        r: 0,
        oneGene: true,
      });
    }
    for (const { loci, r } of input.linkage ?? []) {
      const [a, b] = loci.map(at);
      if (used.has(a)) continue;
      used.add(a).add(b);
      const haplotypes = q(a).flatMap((p, i) =>
        q(b).map((s, j) => ({ alleles: [i, j], chance: p * s })),
      );
      this.groups.push({ loci: [a, b], haplotypes, r: number(r), oneGene: false });
    }
    for (let l = 0; l < input.loci.length; l++) {
      if (used.has(l)) continue;
      this.groups.push({
        loci: [l],
        haplotypes: q(l).map((c, i) => ({ alleles: [i], chance: c })),
        r: 0,
        oneGene: false,
      });
    }
  }

  private copies(locus: number, sex: 'm' | 'f'): number {
    const { inheritance } = this.input.loci[locus];
    if (inheritance === 'X') return sex === 'm' ? 1 : 2;
    if (inheritance === 'Z') return sex === 'f' ? 1 : 2;
    return 2;
  }

  founder(sex: 'm' | 'f', priors: readonly Evidence[]): { diploid: Diploid; chance: number }[] {
    const key = priors.map((prior) => this.input.evidence!.indexOf(prior));
    return this.remember(`founder ${sex} ${key}`, () => this.listFounder(sex, priors));
  }

  young(sire: Person, dam: Person, sex: 'm' | 'f'): { diploid: Diploid; chance: number }[] {
    const key = `${sire.sex}${numberOf(sire.diploid)} ${dam.sex}${numberOf(dam.diploid)} ${sex}`;
    return this.remember(key, () => this.listYoung(sire, dam, sex));
  }

  remember<Value>(key: string, compute: () => Value): Value {
    if (!this.memory.has(key)) this.memory.set(key, compute());
    return this.memory.get(key) as Value;
  }

  /** Haplotypes of a base animal: one allele list over all loci for each of the two. */
  private listFounder(
    sex: 'm' | 'f',
    priors: readonly Evidence[],
  ): { diploid: Diploid; chance: number }[] {
    let list: { diploid: [number[], number[]]; chance: number }[] = [
      { diploid: [this.input.loci.map(() => 0), this.input.loci.map(() => 0)], chance: 1 },
    ];
    for (const { loci, haplotypes } of this.groups) {
      const single = this.copies(loci[0], sex) === 1;
      const pairs = this.pairsOf(loci, haplotypes, single, priors);
      list = list.flatMap(({ diploid, chance }) =>
        pairs.map(({ one, two, chance: own }) => {
          const next: [number[], number[]] = [[...diploid[0]], [...diploid[1]]];
          for (const [k, l] of loci.entries()) {
            next[0][l] = one[k];
            next[1][l] = two[k];
          }
          return { diploid: next, chance: chance * own };
        }),
      );
    }
    return merge(list);
  }

  /** Pairs of haplotypes of one group; a prior replaces Hardy-Weinberg at its locus, the other locus stays independent. */
  private pairsOf(
    loci: number[],
    haplotypes: { alleles: number[]; chance: number }[],
    single: boolean,
    priors: readonly Evidence[],
  ): { one: number[]; two: number[]; chance: number }[] {
    const prior = priors.find(
      (p) =>
        p.kind === 'prior' && loci.includes(this.input.loci.findIndex((l) => l.id === p.locus)),
    );
    const list = haplotypes.flatMap((one) =>
      (single ? [{ ...one, chance: 1 }] : haplotypes).map((two) => ({
        one: one.alleles,
        two: two.alleles,
        chance: one.chance * two.chance,
      })),
    );
    if (prior?.kind !== 'prior') return list;
    const l = this.input.loci.findIndex((locus) => locus.id === prior.locus);
    const place = loci.indexOf(l);
    const text = ({ one, two }: { one: number[]; two: number[] }): string =>
      single
        ? this.input.loci[l].alleles[one[place]]
        : [one[place], two[place]]
            .sort()
            .map((a) => this.input.loci[l].alleles[a])
            .join('/');
    // Chance of the other locus alone: all alleles of this one alike.
    const others = haplotypes.map(({ alleles }) =>
      alleles.reduce((product, allele, k) => {
        if (k === place) return product;
        return (
          product *
          number(this.input.loci[loci[k]].frequencies![this.input.loci[loci[k]].alleles[allele]])
        );
      }, 1),
    );
    const other = (alleles: number[]): number =>
      others[haplotypes.findIndex((h) => h.alleles === alleles)];
    const share = (pair: { one: number[]; two: number[] }): number =>
      other(pair.one) * (single ? 1 : other(pair.two));
    return list.map((pair) => {
      const alike = list.filter((entry) => text(entry) === text(pair));
      const sum = alike.reduce((total, entry) => total + entry.chance, 0);
      const soft = alike.reduce((total, entry) => total + share(entry), 0);
      const wanted =
        Object.entries(prior.genotypes).find(([name]) => this.same(name, text(pair)))?.[1] ?? 0;
      const own = sum > 0 ? pair.chance / sum : share(pair) / soft;
      return { ...pair, chance: own * number(wanted) };
    });
  }

  private listYoung(
    sire: Person,
    dam: Person,
    sex: 'm' | 'f',
  ): { diploid: Diploid; chance: number }[] {
    if (sire.sex !== 'm' || dam.sex !== 'f') {
      // Sexes are no matter at autosomal loci; at sex-linked ones the wrong sex cannot be a parent.
      if (this.input.loci.some((_, l) => this.copies(l, 'm') !== this.copies(l, 'f'))) return [];
    }
    let list: { diploid: [number[], number[]]; chance: number }[] = [
      { diploid: [this.input.loci.map(() => 0), this.input.loci.map(() => 0)], chance: 1 },
    ];
    for (const group of this.groups) {
      const { loci } = group;
      const sexed = this.copies(loci[0], 'm') !== this.copies(loci[0], 'f');
      const gametes = (parent: Person, parentSex: 'm' | 'f') =>
        sexed && this.copies(loci[0], parentSex) === 1
          ? [{ alleles: loci.map((l) => parent.diploid[0][l]), chance: 1 }]
          : this.gametes(parent.diploid, group);
      const single = this.copies(loci[0], sex) === 1;
      list = list.flatMap(({ diploid, chance }) => {
        const fromSire = gametes(sire, 'm');
        const fromDam = gametes(dam, 'f');
        // Hemizygous young take the chromosome from the other-sexed parent alone.
        const pairs = single
          ? (sex === 'm' ? fromDam : fromSire).map((g) => [g, { ...g, chance: 1 }])
          : fromSire.flatMap((a) => fromDam.map((b) => [a, b]));
        return pairs.map(([a, b]) => {
          const next: [number[], number[]] = [[...diploid[0]], [...diploid[1]]];
          for (const [k, l] of loci.entries()) {
            next[0][l] = a.alleles[k];
            next[1][l] = b.alleles[k];
          }
          return { diploid: next, chance: chance * a.chance * b.chance };
        });
      });
    }
    return merge(list);
  }

  private gametes(
    diploid: Diploid,
    { loci, r }: { loci: number[]; r: number },
  ): { alleles: number[]; chance: number }[] {
    if (loci.length === 1) {
      return [0, 1].map((k) => ({ alleles: [diploid[k][loci[0]]], chance: 0.5 }));
    }
    return [0, 1].flatMap((k) =>
      [0, 1].map((j) => ({
        alleles: [diploid[k][loci[0]], diploid[j][loci[1]]],
        chance: (k === j ? 1 - r : r) / 2,
      })),
    );
  }

  text(person: Person, l: number): string {
    const { alleles } = this.input.loci[l];
    const [a, b] = [person.diploid[0][l], person.diploid[1][l]];
    if (this.copies(l, person.sex) === 1) return alleles[a];
    return `${alleles[Math.min(a, b)]}/${alleles[Math.max(a, b)]}`;
  }

  private same(one: string, other: string): boolean {
    return one.split('/').sort().join('/') === other.split('/').sort().join('/');
  }

  weight(input: ProgramInput, record: Evidence, person: Person): number {
    const place = input.evidence!.indexOf(record);
    return this.remember(`weight ${place} ${person.sex}${numberOf(person.diploid)}`, () =>
      this.recordWeight(input, record, person),
    );
  }

  private recordWeight(input: ProgramInput, record: Evidence, person: Person): number {
    if (record.kind === 'phenotype') {
      return this.look(
        input,
        record.trait,
        record.seen,
        number(record.misread ?? 0),
        person,
        record.ageDays,
      );
    }
    if (record.kind !== 'dna' && record.kind !== 'claim' && record.kind !== 'likelihood') return 1;
    const l = input.loci.findIndex((locus) => locus.id === record.locus);
    const text = this.text(person, l);
    if (record.kind === 'claim') {
      const trust = number(record.trust);
      return record.genotypes.some((g) => this.same(g, text)) ? trust : 1 - trust;
    }
    if (record.kind !== 'dna') {
      return number(Object.entries(record.genotypes).find(([g]) => this.same(g, text))?.[1] ?? 0);
    }
    const error = number(record.error ?? 0);
    const right = this.same(record.genotype, text);
    if (record.genotype.split('/').length !== text.split('/').length) return 0;
    if (record.model === 'replace') {
      const drawn = this.founder(person.sex, [])
        .filter(({ diploid }) =>
          this.same(this.text({ sex: person.sex, diploid }, l), record.genotype),
        )
        .reduce((sum, { chance }) => sum + chance, 0);
      return (right ? 1 - error : 0) + error * drawn;
    }
    const a = input.loci[l].alleles.length;
    const all = text.includes('/') ? (a * (a + 1)) / 2 : a;
    return right ? 1 - error : all > 1 ? error / (all - 1) : 0;
  }

  /** P(this look is noted | the animal). */
  look(
    input: ProgramInput,
    traitId: string,
    seen: boolean | string,
    misread: number,
    person: Person,
    ageDays = Number.POSITIVE_INFINITY,
  ): number {
    const trait = input.traits!.find(({ id }) => id === traitId)!;
    let shown = 0;
    const versions = this.versions(person);
    for (const version of versions) {
      shown +=
        Number(this.holds(trait.when as unknown as Rule, version, ageDays)) / versions.length;
    }
    return (
      (seen === true ? shown : 1 - shown) * (1 - misread) +
      (seen === true ? 1 - shown : shown) * misread
    );
  }

  /** A compound of two lines that are one gene counts as visual of either line, half and half. */
  private versions(person: Person): Person[] {
    let list: Person[] = [person];
    for (const { loci, oneGene } of this.groups) {
      if (!oneGene || this.copies(loci[0], person.sex) === 1) continue;
      const [one, two] = person.diploid.map((haplotype) => loci.map((l) => haplotype[l]));
      const line = (h: number[]): number => h.findIndex((allele) => allele > 0);
      if (line(one) < 0 || line(two) < 0 || line(one) === line(two)) continue;
      list = list.flatMap((version) =>
        [one, two].map((visual): Person => {
          const diploid: [number[], number[]] = [[...version.diploid[0]], [...version.diploid[1]]];
          for (const [k, l] of loci.entries()) {
            diploid[0][l] = visual[k];
            diploid[1][l] = visual[k];
          }
          return { sex: version.sex, diploid };
        }),
      );
    }
    return list;
  }

  private holds(rule: Rule, person: Person, ageDays: number): boolean {
    if ('all' in rule)
      return (rule.all as Rule[]).every((part) => this.holds(part, person, ageDays));
    if ('any' in rule)
      return (rule.any as Rule[]).some((part) => this.holds(part, person, ageDays));
    if ('not' in rule) return !this.holds(rule.not as Rule, person, ageDays);
    if ('sex' in rule) return rule.sex === person.sex;
    if ('fromDays' in rule) return ageDays >= (rule.fromDays as number);
    const l = this.input.loci.findIndex((locus) => locus.id === rule.locus);
    return (rule.genotypes as string[]).some((g) => this.same(g, this.text(person, l)));
  }
}

/** Equal diploids are one object, so that they have a number. */
const known = new Map<string, Diploid>();
const numbers = new WeakMap<Diploid, number>();
export const numberOf = (diploid: Diploid): number => numbers.get(diploid)!;

/** Adds up equal diploids; haplotypes in a fixed order, since which parent gave which is of no matter. */
function merge(
  list: readonly { diploid: [number[], number[]]; chance: number }[],
): { diploid: Diploid; chance: number }[] {
  const sums = new Map<string, { diploid: Diploid; chance: number }>();
  for (const { diploid, chance } of list) {
    if (chance === 0) continue;
    const [a, b] = diploid;
    const key = a.join() < b.join() ? `${a};${b}` : `${b};${a}`;
    if (!known.has(key)) {
      known.set(key, diploid);
      numbers.set(diploid, known.size);
    }
    const sum = sums.get(key);
    if (sum) sum.chance += chance;
    else sums.set(key, { diploid: known.get(key)!, chance });
  }
  return [...sums.values()];
}
