import { type Random, seededRandom } from '@scutewright/basics';
import type { ProgramInput } from '@scutewright/inference';

/** An invented program at one recessive locus, with the truth behind it. */
export interface InventedProgram {
  readonly input: ProgramInput;
  /** By animal: copies of the recessive allele. */
  readonly copies: ReadonlyMap<string, number>;
  readonly breeders: number;
}

export interface ProgramPlan {
  readonly animals: number;
  readonly founders: number;
  readonly years: number;
  /** Males and females that breed in a year. */
  readonly males: number;
  readonly females: number;
  /** Chance that a breeder is replaced by a young of the last years before the next year. */
  readonly turnover: number;
  readonly clutch: readonly [least: number, most: number];
  /** Share of clutches with two to four candidate sires. */
  readonly uncertain: number;
  /** Whose look may be misread at 1 in 100: nobody's, that of young without young, everybody's. */
  readonly misread: 'none' | 'young' | 'all';
  /** Founders without the allele are declared free. */
  readonly declared: boolean;
}

const Q = 0.12;

/** The same seed gives the same program. */
export function inventProgram(plan: ProgramPlan, seed: number): InventedProgram {
  const random = seededRandom(seed);
  const copies = new Map<string, number>();
  const sexOf = new Map<string, 'm' | 'f'>();
  const animals: { id: string; sex: 'm' | 'f'; clutch?: string }[] = [];
  const clutches: NonNullable<ProgramInput['clutches']>[number][] = [];
  const add = (sex: 'm' | 'f', alleles: number, clutch?: string): string => {
    const id = `T${animals.length}`;
    animals.push({ id, sex, ...(clutch ? { clutch } : {}) });
    copies.set(id, alleles);
    sexOf.set(id, sex);
    return id;
  };
  const allele = (): number => Number(random.next() < Q);
  for (let i = 0; i < plan.founders; i++) add(i % 2 === 0 ? 'm' : 'f', allele() + allele());
  const breeders = new Set<string>();
  const perYear = (plan.animals - plan.founders) / plan.years;
  const group = {
    m: animals
      .filter(({ sex }) => sex === 'm')
      .slice(0, plan.males)
      .map(({ id }) => id),
    f: animals
      .filter(({ sex }) => sex === 'f')
      .slice(0, plan.females)
      .map(({ id }) => id),
  };
  for (let year = 0; animals.length < plan.animals && year < plan.years * 3; year++) {
    const { m: males, f: females } = group;
    const born: string[] = [];
    while (born.length < perYear && animals.length < plan.animals) {
      const [sire, dam] = [pick(males, random), pick(females, random)];
      breeders.add(sire).add(dam);
      const id = `c${clutches.length}`;
      const others = sample(
        males.filter((male) => male !== sire),
        1 + random.below(3),
        random,
      );
      const open = random.next() < plan.uncertain && others.length > 0;
      const sires = open ? [sire, ...others] : [sire];
      for (const male of sires) breeders.add(male);
      const share = `1/${sires.length}`;
      clutches.push({ id, dam, sires: sires.map((male) => ({ id: male, probability: share })) });
      const size = plan.clutch[0] + random.below(plan.clutch[1] - plan.clutch[0] + 1);
      for (let i = 0; i < size && animals.length < plan.animals; i++) {
        const drawn = (parent: string): number => Number(random.next() * 2 < copies.get(parent)!);
        const sex = random.next() < 0.5 ? 'm' : 'f';
        born.push(add(sex, drawn(sire) + drawn(dam), id));
      }
    }
    for (const sex of ['m', 'f'] as const) {
      const heirs = born.filter((id) => sexOf.get(id) === sex);
      group[sex] = group[sex].map((id) =>
        random.next() < plan.turnover && heirs.length > 0 ? pick(heirs, random) : id,
      );
      const size = sex === 'm' ? plan.males : plan.females;
      group[sex] = [...new Set([...group[sex], ...heirs])].slice(0, Math.max(1, size));
    }
  }
  return {
    input: { ...look(animals, copies, breeders, plan, random), clutches },
    copies,
    breeders: breeders.size,
  };
}

function look(
  animals: readonly { id: string; sex: 'm' | 'f'; clutch?: string }[],
  copies: ReadonlyMap<string, number>,
  breeders: ReadonlySet<string>,
  plan: ProgramPlan,
  random: Random,
): ProgramInput {
  const evidence: NonNullable<ProgramInput['evidence']>[number][] = [];
  for (const { id, clutch } of animals) {
    const alleles = copies.get(id)!;
    if (random.next() < 0.9) {
      const rate =
        plan.misread === 'all' || (plan.misread === 'young' && !breeders.has(id)) ? 0.01 : 0;
      const wrong = random.next() < rate;
      evidence.push({
        kind: 'phenotype',
        animal: id,
        trait: 'pale',
        seen: (alleles === 2) !== wrong,
        misread: rate,
      });
    }
    if (breeders.has(id) && random.next() < 0.1) {
      const genotype = ['n/n', 'n/a', 'a/a'][alleles];
      evidence.push({ kind: 'dna', animal: id, locus: 'p', genotype, error: '1/100' });
    }
    if (plan.declared && !clutch && alleles === 0) {
      evidence.push({ kind: 'prior', animal: id, locus: 'p', genotypes: { 'n/n': 1 } });
    }
  }
  return {
    loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: 1 - Q, a: Q } }],
    traits: [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }],
    animals,
    evidence,
  };
}

function pick<Value>(list: readonly Value[], random: Random): Value {
  return list[random.below(list.length)];
}

function sample<Value>(list: readonly Value[], count: number, random: Random): Value[] {
  const rest = [...list];
  for (let i = 0; i < Math.min(count, rest.length); i++) {
    const j = i + random.below(rest.length - i);
    [rest[i], rest[j]] = [rest[j], rest[i]];
  }
  return rest.slice(0, count);
}
