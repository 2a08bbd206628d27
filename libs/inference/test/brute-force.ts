import type { ProgramInput } from '@scutewright/inference';

/**
 * Null when it would take more than `mostSteps`. The slow twin: lists every world (who is whose parent, who has which haplotypes), multiplies, adds up. Straight from the
 * definitions in the documentation of `ProgramInput`; shares no code with the library.
 */
export interface BruteForce {
  total: number;
  genotypes: Map<string, number>;
  sires: Map<string, number>;
  dams: Map<string, number>;
  clutches: Map<string, number>;
  clutchSires: Map<string, number>;
  oneGene: number[];
}

type Haplotype = readonly number[];
/** Two haplotypes in a fixed order; one at hemizygous loci is written twice and read once. */
type Diploid = readonly [Haplotype, Haplotype];
type Clutch = NonNullable<ProgramInput['clutches']>[number];
type Evidence = NonNullable<ProgramInput['evidence']>[number];
type Rule = Readonly<Record<string, unknown>>;

const number = (value: string | number): number => {
  const [a, b] = String(value).split('/').map(Number);
  return b === undefined ? a : a / b;
};

/** A parent in a world: a listed animal, or a base animal under a name of its own. */
interface Family {
  sire: string;
  dam: string;
}

interface World {
  probability: number;
  family: Map<string, Family>;
  /** By young: what is reported as its sire, and its clutch. */
  sireOf: Map<string, string>;
  damOf: Map<string, string>;
  clutchOf: Map<string, string>;
  /** By clutch: the males an unnamed young may have, with chances, and its dam. */
  unnamed: Map<string, { sires: { name: string; chance: number }[]; dam: string }>;
}

export function bruteForce(
  input: ProgramInput,
  mostSteps = Number.POSITIVE_INFINITY,
): BruteForce | null {
  let steps = 0;
  const result: BruteForce = {
    total: 0,
    genotypes: new Map(),
    sires: new Map(),
    dams: new Map(),
    clutches: new Map(),
    clutchSires: new Map(),
    oneGene: (input.allelism ?? []).map(() => 0),
  };
  const hypotheses = input.allelism ?? [];
  for (let bits = 0; bits < 2 ** hypotheses.length; bits++) {
    let prior = 1;
    const oneGene = hypotheses.map((hypothesis, h) => {
      const yes = ((bits >> h) & 1) === 1;
      prior *= yes ? number(hypothesis.probability) : 1 - number(hypothesis.probability);
      return yes;
    });
    if (prior === 0) continue;
    const genetics = new Genetics(input, oneGene);
    const listed = worlds(input, mostSteps / 50);
    if (!listed) return null;
    for (const world of listed) {
      const count = (): boolean => ++steps <= mostSteps;
      weighWorld(
        input,
        genetics,
        { ...world, probability: world.probability * prior },
        count,
        (w, people) => {
          result.total += w;
          for (const [h, yes] of oneGene.entries()) if (yes) result.oneGene[h] += w;
          const add = (map: Map<string, number>, key: string): void => {
            map.set(key, (map.get(key) ?? 0) + w);
          };
          for (const { id } of input.animals) {
            for (const [l, locus] of input.loci.entries()) {
              add(result.genotypes, `${id} ${locus.id} ${genetics.text(people.get(id)!, l)}`);
            }
          }
          for (const [id, sire] of world.sireOf) add(result.sires, `${id} ${sire}`);
          for (const [id, dam] of world.damOf) add(result.dams, `${id} ${dam}`);
          for (const [id, clutch] of world.clutchOf) add(result.clutches, `${id} ${clutch}`);
          for (const clutch of input.clutches ?? []) {
            const young = input.animals.filter((animal) => animal.clutch === clutch.id);
            const key = young.map(({ id }) => world.sireOf.get(id)).join();
            if (young.length > 0) add(result.clutchSires, `${clutch.id} ${key}`);
          }
        },
      );
      if (steps > mostSteps) return null;
    }
  }
  for (const map of [
    result.genotypes,
    result.sires,
    result.dams,
    result.clutches,
    result.clutchSires,
  ]) {
    for (const [key, value] of map) map.set(key, value / result.total);
  }
  result.oneGene = result.oneGene.map((value) => value / result.total);
  return result;
}

/** Every assignment of parents; null when there are more than `most`. */
function worlds(input: ProgramInput, most: number): World[] | null {
  let list: World[] = [
    {
      probability: 1,
      family: new Map(),
      sireOf: new Map(),
      damOf: new Map(),
      clutchOf: new Map(),
      unnamed: new Map(),
    },
  ];
  for (const { id, sire, dam, clutch } of input.animals) {
    if (clutch || !(sire || dam)) continue;
    for (const world of list) {
      world.family.set(id, { sire: sire || `base sire of ${id}`, dam: dam || `base dam of ${id}` });
    }
  }
  // The same animal may stand in several finds' worlds: draw the clutch first, tied counts without putting back.
  list = list.flatMap((world) => drawFinds(input, world));
  for (const clutch of input.clutches ?? []) {
    list = list.flatMap((world) => drawClutch(clutch, input, world));
    if (list.length > most) return null;
  }
  return list;
}

function drawFinds(input: ProgramInput, start: World): World[] {
  let list = [start];
  for (const find of input.finds ?? []) {
    let open = list.map((world) => ({
      world,
      left: find.clutches.map((c) => ('count' in c ? c.count : Number.NaN)),
    }));
    for (const animal of find.animals) {
      open = open.flatMap(({ world, left }) =>
        find.clutches.flatMap((c, k) => {
          const total = left.reduce((a, b) => a + b, 0);
          const chance = 'count' in c ? left[k] / total : number(c.probability);
          if (chance === 0) return [];
          return [
            {
              world: {
                ...world,
                probability: world.probability * chance,
                clutchOf: new Map(world.clutchOf).set(animal, c.id),
              },
              left: left.map((n, i) => (i === k ? n - 1 : n)),
            },
          ];
        }),
      );
    }
    list = open.map(({ world }) => world);
  }
  return list;
}

function drawClutch(clutch: Clutch, input: ProgramInput, start: World): World[] {
  const sires = withRest(clutch.sire, clutch.sires);
  const dams = withRest(clutch.dam, clutch.dams);
  const shared = (id: string): string => (id === 'unknown' ? `unknown male of ${clutch.id}` : id);
  const found: World[] = [];
  for (const dam of dams) {
    const damName = dam.id === 'unknown' ? `unknown female of ${clutch.id}` : dam.id;
    for (const mode of modes(clutch.paternity, sires)) {
      const young = input.animals
        .map(({ id, clutch: own }) => ({ id, clutch: own ?? start.clutchOf.get(id) }))
        .filter((animal) => animal.clutch === clutch.id)
        .map(({ id }) => id);
      let list: World[] = [
        {
          ...start,
          probability: start.probability * dam.chance * mode.chance,
          unnamed: new Map(start.unnamed).set(clutch.id, {
            sires: mode.sires.map(({ id, chance }) => ({
              name: id === 'unknown' && mode.apart ? 'anybody' : shared(id),
              chance,
            })),
            dam: damName,
          }),
        },
      ];
      for (const animal of young) {
        list = list.flatMap((world) =>
          mode.sires.map(({ id, chance }) => ({
            ...world,
            probability: world.probability * chance,
            family: new Map(world.family).set(animal, {
              sire: id === 'unknown' && mode.apart ? `unknown male of ${animal}` : shared(id),
              dam: damName,
            }),
            sireOf: new Map(world.sireOf).set(animal, id),
            damOf: new Map(world.damOf).set(animal, dam.id),
          })),
        );
      }
      found.push(...list);
    }
  }
  return found.filter((world) => world.probability > 0);
}

interface Candidate {
  id: string;
  chance: number;
}

function withRest(
  certain: string | null | undefined,
  listed: readonly { id: string; probability: string | number }[] | undefined,
): Candidate[] {
  const list = (listed ?? (certain ? [{ id: certain, probability: 1 }] : [])).map(
    ({ id, probability }) => ({ id, chance: number(probability) }),
  );
  const rest = 1 - list.reduce((sum, { chance }) => sum + chance, 0);
  return rest > 1e-9 ? [...list, { id: 'unknown', chance: rest }] : list;
}

/** Ways in which a clutch can be sired: the males its young draw from. `apart`: unknown males are different ones. */
function modes(
  paternity: Clutch['paternity'],
  sires: readonly Candidate[],
): { chance: number; apart: boolean; sires: Candidate[] }[] {
  const single = (rate: number) =>
    sires.map(({ id, chance }) => ({
      chance: chance * rate,
      apart: false,
      sires: [{ id, chance: 1 }],
    }));
  if (paternity === undefined || paternity === 'single') return single(1);
  if (paternity === 'independent') return [{ chance: 1, apart: true, sires: [...sires] }];
  if ('multiple' in paternity) {
    const rate = number(paternity.multiple);
    return [...single(1 - rate), { chance: rate, apart: true, sires: [...sires] }];
  }
  const rate = number(paternity.twoSires);
  if (sires.length === 1) return single(1);
  const pairs = sires.flatMap((a, i) => sires.slice(i + 1).map((b) => ({ a, b })));
  const total = pairs.reduce((sum, { a, b }) => sum + a.chance * b.chance, 0);
  return [
    ...single(1 - rate),
    ...pairs.map(({ a, b }) => ({
      chance: (rate * a.chance * b.chance) / total,
      apart: false,
      sires: [
        { id: a.id, chance: 0.5 },
        { id: b.id, chance: 0.5 },
      ],
    })),
  ];
}

interface Person {
  sex: 'm' | 'f';
  diploid: Diploid;
}

/** Gives every animal of a world every combination of sex and haplotypes, parents first. */
function weighWorld(
  input: ProgramInput,
  genetics: Genetics,
  world: World,
  goOn: () => boolean,
  visit: (weight: number, people: Map<string, Person>) => void,
): void {
  const order: string[] = [];
  const place = (name: string): void => {
    if (order.includes(name)) return;
    const family = world.family.get(name);
    if (family) {
      place(family.sire);
      place(family.dam);
    }
    order.push(name);
  };
  for (const { id } of input.animals) place(id);
  const counted = (input.evidence ?? []).flatMap((record) =>
    record.kind === 'count' ? (record.clutches?.map(({ id }) => id) ?? [record.clutch!]) : [],
  );
  for (const [clutch, { sires, dam }] of world.unnamed) {
    if (!counted.includes(clutch)) continue;
    place(dam);
    for (const { name } of sires) if (name !== 'anybody') place(name);
  }
  const records = input.evidence ?? [];
  const sexes = certainSexes(input);
  const about = new Map<string, Evidence[]>();
  for (const record of records) {
    if ('animal' in record) about.set(record.animal, [...(about.get(record.animal) ?? []), record]);
  }
  const people = new Map<string, Person>();
  const step = (k: number, weight: number): void => {
    if (weight === 0 || !goOn()) return;
    if (k === order.length) {
      let last = weight;
      for (const record of records) {
        if (record.kind === 'count') last *= countWeight(input, genetics, record, world, people);
        if (record.kind === 'parentage') last *= parentageWeight(record, world);
      }
      if (last > 0) visit(last, people);
      return;
    }
    const name = order[k];
    const family = world.family.get(name);
    const known =
      sexes.get(name) ??
      (/(male|sire) of/.test(name) && !/female/.test(name)
        ? 'm'
        : /(female|dam) of/.test(name)
          ? 'f'
          : null);
    for (const sex of known ? [known] : (['m', 'f'] as const)) {
      const sexWeight = known ? 1 : 0.5;
      const list = family
        ? genetics.young(people.get(family.sire)!, people.get(family.dam)!, sex)
        : genetics.founder(sex, priorsOf(records, name));
      for (const { diploid, chance } of list) {
        const person: Person = { sex, diploid };
        let own = chance * sexWeight * weight;
        for (const record of about.get(name) ?? []) own *= genetics.weight(input, record, person);
        people.set(name, person);
        step(k + 1, own);
      }
    }
    people.delete(name);
  };
  step(0, world.probability);
}

function priorsOf(records: readonly Evidence[], name: string): Evidence[] {
  return records.filter((record) => record.kind === 'prior' && record.animal === name);
}

/** Sexes written down, or given by a certain parenthood. */
function certainSexes(input: ProgramInput): Map<string, 'm' | 'f'> {
  const sexes = new Map<string, 'm' | 'f'>();
  for (const { id, sex, sire, dam } of input.animals) {
    if (sex) sexes.set(id, sex);
    if (sire) sexes.set(sire, 'm');
    if (dam) sexes.set(dam, 'f');
  }
  for (const { sire, sires, dam, dams } of input.clutches ?? []) {
    if (sire) sexes.set(sire, 'm');
    if (dam) sexes.set(dam, 'f');
    for (const { id, probability } of sires ?? [])
      if (number(probability) === 1) sexes.set(id, 'm');
    for (const { id, probability } of dams ?? []) if (number(probability) === 1) sexes.set(id, 'f');
  }
  return sexes;
}

function parentageWeight(record: Extract<Evidence, { kind: 'parentage' }>, world: World): number {
  const parent = record.sire ?? record.dam;
  const family = world.family.get(record.animal);
  const is = (record.sire === undefined ? family?.dam : family?.sire) === parent;
  const confirmed = is
    ? 1 - number(record.false_exclusion ?? 0)
    : number(record.false_confirmation ?? 0);
  return record.result === 'confirmed' ? confirmed : 1 - confirmed;
}

/** Chance of the look of one unnamed young. */
function oneYoung(
  input: ProgramInput,
  genetics: Genetics,
  record: Extract<Evidence, { kind: 'count' }>,
  group: { looks: Readonly<Record<string, boolean | string>> },
  world: World,
  people: Map<string, Person>,
): number {
  const of = record.clutches ?? [{ id: record.clutch!, probability: 1 }];
  let one = 0;
  for (const { id, probability } of of) {
    const { sires, dam } = world.unnamed.get(id)!;
    for (const { name, chance } of sires) {
      const males =
        name === 'anybody'
          ? genetics.founder('m', [])
          : [{ diploid: people.get(name)!.diploid, chance: 1 }];
      for (const male of males) {
        for (const sex of ['m', 'f'] as const) {
          const list = genetics.young({ sex: 'm', diploid: male.diploid }, people.get(dam)!, sex);
          for (const { diploid, chance: own } of list) {
            const look = Object.entries(group.looks).reduce(
              (product, [trait, seen]) =>
                product *
                genetics.look(
                  input,
                  trait,
                  seen,
                  number(record.misread ?? 0),
                  { sex, diploid },
                  record.ageDays,
                ),
              1,
            );
            one += number(probability) * chance * male.chance * 0.5 * own * look;
          }
        }
      }
    }
  }
  return one;
}

function countWeight(
  input: ProgramInput,
  genetics: Genetics,
  record: Extract<Evidence, { kind: 'count' }>,
  world: World,
  people: Map<string, Person>,
): number {
  const of = record.clutches ?? [{ id: record.clutch!, probability: 1 }];
  const groups = record.groups ?? [
    { number: record.seen ?? 0, looks: { [record.trait!]: true } },
    { number: record.notSeen ?? 0, looks: { [record.trait!]: false } },
  ];
  let weight = 1;
  let placed = 0;
  for (const group of groups) {
    const state = of.map(({ id }) => {
      const { sires, dam } = world.unnamed.get(id)!;
      const names = [...sires.map(({ name }) => name), dam];
      return [
        names.map((name) => people.has(name) && numberOf(people.get(name)!.diploid)),
        sires.map((s) => s.chance),
      ];
    });
    const key = `count ${input.evidence!.indexOf(record)} ${JSON.stringify([group, state])}`;
    const one = genetics.remember(key, () =>
      oneYoung(input, genetics, record, group, world, people),
    );
    for (let i = 1; i <= group.number; i++) weight *= (++placed / i) * one;
  }
  return weight;
}

class Genetics {
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
const numberOf = (diploid: Diploid): number => numbers.get(diploid)!;

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
