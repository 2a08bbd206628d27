import type { ProgramInput } from '@scutewright/inference';
import { everyParentage, type World } from './every-parentage.js';
import { Genetics, number, numberOf, type Person } from './listed-genetics.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/** Chances by names joined with a blank: `animal locus genotype`, `young sire`. */
export interface BruteForce {
  total: number;
  genotypes: Map<string, number>;
  sires: Map<string, number>;
  dams: Map<string, number>;
  clutches: Map<string, number>;
  clutchSires: Map<string, number>;
  oneGene: number[];
}

/**
 * The slow twin: lists every world (who is whose parent, who has which haplotypes), multiplies, adds up. Straight
 * from the definitions in the documentation of `ProgramInput`; shares no code with the library. Null when it would
 * take more than `mostSteps`.
 */
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
    const listed = everyParentage(input, mostSteps / 50);
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
