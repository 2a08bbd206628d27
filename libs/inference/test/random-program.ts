import { type Random, seededRandom } from '@scutewright/basics';
import type { ProgramInput } from '@scutewright/inference';

type Evidence = NonNullable<ProgramInput['evidence']>[number];
type Clutch = NonNullable<ProgramInput['clutches']>[number];

/** What the random programs may hold; each kind is tested on its own so that a failure says where. */
export interface Flavour {
  readonly name: string;
  readonly loci: 'one' | 'series' | 'two' | 'linked' | 'sex-linked' | 'look-alikes';
  readonly clutches: boolean;
  readonly counts: boolean;
  readonly finds: boolean;
}

/** A small invented program: a few founders, young of theirs, young of those, with records of every kind. */
export function randomProgram(seed: number, flavour: Flavour): ProgramInput {
  const random = seededRandom(seed);
  const pick = <Value>(list: readonly Value[]): Value => list[random.below(list.length)];
  const chance = (p: number): boolean => random.next() < p;
  const loci = lociOf(flavour, random);
  const two = loci.length > 1;
  const animals: { id: string; sex?: 'm' | 'f'; sire?: string; dam?: string; clutch?: string }[] =
    [];
  const males: string[] = [];
  const females: string[] = [];
  for (let i = 0; i < 2 + random.below(2); i++) {
    const sex = i === 0 ? 'm' : i === 1 ? 'f' : pick(['m', 'f'] as const);
    animals.push({ id: `F${i}`, sex });
    (sex === 'm' ? males : females).push(`F${i}`);
  }
  const clutches: Clutch[] = [];
  const finds: NonNullable<ProgramInput['finds']>[number][] = [];
  const mostAnimals = two || flavour.loci === 'series' ? 4 : 6;
  const mostClutches = flavour.finds ? 2 : 1 + random.below(2);
  for (let generation = 0; animals.length < mostAnimals && generation < 4; generation++) {
    if (flavour.clutches && clutches.length < mostClutches) {
      const id = `c${clutches.length}`;
      clutches.push(randomClutch(id, males, females, two, random));
      if (flavour.finds) continue;
      const size = Math.min(1 + random.below(two ? 2 : 3), mostAnimals - animals.length);
      for (let i = 0; i < size; i++) animals.push({ id: `Y${animals.length}`, clutch: id });
    } else {
      const [sire, dam] = [pick(males), pick(females)];
      animals.push({
        id: `Y${animals.length}`,
        sex: pick(['m', 'f'] as const),
        ...(chance(0.85) ? { sire } : {}),
        ...(chance(0.85) ? { dam } : {}),
      });
    }
    const last = animals[animals.length - 1];
    if (chance(0.5)) last.sex ??= pick(['m', 'f'] as const);
    if (last.sex === 'm') males.push(last.id);
    if (last.sex === 'f') females.push(last.id);
  }
  if (flavour.finds) {
    const found = Array.from({ length: 2 }, (_, i) => ({ id: `G${i}` }));
    animals.push(...found);
    const tied = chance(0.5);
    finds.push({
      animals: found.map(({ id }) => id),
      clutches: clutches.map(({ id }, i) =>
        tied ? { id, count: 1 } : { id, probability: i === 0 ? '3/10' : '7/10' },
      ),
    });
  }
  const traits = traitsOf(flavour);
  const evidence: Evidence[] = [];
  const rate = (): string => pick(['0', '1/20', '1/20', '1/5']);
  for (const animal of animals) {
    for (const { id } of traits) {
      if (!chance(two ? 0.3 : 0.45)) continue;
      evidence.push({
        kind: 'phenotype',
        animal: animal.id,
        trait: id,
        seen: chance(0.4),
        misread: rate(),
        ...(chance(0.3) ? { ageDays: 100 } : {}),
      });
    }
    for (const locus of loci) {
      const genotypes = genotypesOf(locus, animal.sex);
      if (genotypes.length === 0) continue;
      if (chance(0.12)) {
        evidence.push({
          kind: 'dna',
          animal: animal.id,
          locus: locus.id,
          genotype: pick(genotypes),
          error: pick(['0', '1/10', '1/10']),
          model: pick(['uniform', 'replace'] as const),
        });
      }
      if (chance(0.1)) {
        evidence.push({
          kind: 'claim',
          animal: animal.id,
          locus: locus.id,
          genotypes: [pick(genotypes)],
          trust: pick(['3/4', '1', '1/2']),
        });
      }
      if (chance(0.05)) {
        evidence.push({
          kind: 'likelihood',
          animal: animal.id,
          locus: locus.id,
          genotypes: Object.fromEntries(genotypes.map((g) => [g, pick(['1', '1/3', '0'])])),
        });
      }
      if (
        animal.id.startsWith('F') &&
        chance(0.15) &&
        !evidence.some((e) => e.kind === 'prior' && e.animal === animal.id)
      ) {
        const [a, b] = [pick(genotypes), pick(genotypes)];
        evidence.push({
          kind: 'prior',
          animal: animal.id,
          locus: locus.id,
          genotypes: a === b ? { [a]: '1' } : { [a]: '1/4', [b]: '3/4' },
        });
      }
    }
  }
  for (const animal of animals) {
    if (animal.id.startsWith('F') || !chance(0.15)) continue;
    const role = chance(0.7) ? { sire: pick(males) } : { dam: pick(females) };
    evidence.push({
      kind: 'parentage',
      animal: animal.id,
      ...role,
      result: pick(['confirmed', 'excluded']),
      false_exclusion: pick(['0', '1/10']),
      false_confirmation: pick(['1/10', '1/4']),
    });
  }
  if (flavour.counts) {
    for (const { id } of clutches) {
      const lot = clutches.length > 1 && chance(0.3);
      evidence.push({
        kind: 'count',
        ...(lot
          ? {
              clutches: clutches.map((c, i) => ({
                id: c.id,
                probability: i === 0 ? '1/4' : '3/4',
              })),
            }
          : { clutch: id }),
        trait: traits[0].id,
        seen: random.below(3),
        notSeen: random.below(4),
        notLookedAt: random.below(5),
        misread: rate(),
      });
    }
  }
  return {
    loci,
    linkage: flavour.loci === 'linked' ? [{ loci: ['p', 's'], r: pick(['0', '1/10', '1/2']) }] : [],
    traits,
    animals,
    clutches,
    finds,
    evidence,
    allelism:
      flavour.loci === 'look-alikes'
        ? [{ id: 'one gene', loci: ['p', 's'], probability: '1/5' }]
        : [],
  };
}

function lociOf({ loci }: Flavour, random: Random): ProgramInput['loci'][number][] {
  const q = ['1/5', '1/20', '0', '1/3'][random.below(4)];
  const p = {
    id: 'p',
    alleles: ['n', 'a'],
    frequencies: { n: q === '0' ? '1' : q === '1/3' ? '2/3' : q === '1/5' ? '4/5' : '19/20', a: q },
  };
  if (loci === 'one') return [p];
  if (loci === 'series') {
    return [{ id: 'p', alleles: ['n', 'a', 'z'], frequencies: { n: '1/2', a: '3/10', z: '1/5' } }];
  }
  if (loci === 'sex-linked') {
    return [
      {
        id: 'p',
        alleles: ['n', 'a'],
        frequencies: { n: '3/4', a: '1/4' },
        inheritance: ['X', 'Z'][random.below(2)],
      },
    ];
  }
  return [p, { id: 's', alleles: ['N', 'b'], frequencies: { N: '7/10', b: '3/10' } }];
}

function traitsOf({ loci }: Flavour): NonNullable<ProgramInput['traits']>[number][] {
  const pale = { locus: 'p', genotypes: loci === 'sex-linked' ? ['a/a', 'a'] : ['a/a'] };
  if (loci === 'series') {
    return [
      { id: 'pale', when: { locus: 'p', genotypes: ['a/a', 'a/z'] } },
      { id: 'bleached', when: { all: [{ locus: 'p', genotypes: ['z/z'] }, { fromDays: 365 }] } },
    ];
  }
  if (loci === 'one') {
    return [
      { id: 'pale', when: pale },
      { id: 'crest', when: { all: [{ sex: 'm' }, { locus: 'p', genotypes: ['n/a', 'a/a'] }] } },
    ];
  }
  if (loci === 'sex-linked') return [{ id: 'pale', when: pale }];
  const pink = { locus: 's', genotypes: ['b/b'] };
  return [
    { id: 'pale', when: { any: [pale, pink] } },
    { id: 'dark eye', when: { all: [pale, { not: pink }] } },
  ];
}

function genotypesOf(locus: ProgramInput['loci'][number], sex: 'm' | 'f' | undefined): string[] {
  const pairs = locus.alleles.flatMap((a, i) => locus.alleles.slice(i).map((b) => `${a}/${b}`));
  if (!locus.inheritance) return pairs;
  if (!sex) return [];
  return (locus.inheritance === 'X') === (sex === 'm') ? [...locus.alleles] : pairs;
}

function randomClutch(
  id: string,
  males: string[],
  females: string[],
  two: boolean,
  random: Random,
): Clutch {
  const sires = [...new Set(males)].slice(two ? -2 : -3);
  const share = random.below(3);
  const weights =
    share === 0 ? ['1/2', '1/4', '1/8'] : share === 1 ? ['1/2', '1/2', '0'] : ['3/5', '1/5', '1/5'];
  const dams = [...new Set(females)].slice(-2);
  const paternity = (
    ['single', 'single', 'independent', { multiple: '1/4' }, { twoSires: '2/5' }] as const
  )[random.below(5)];
  return {
    id,
    ...(random.next() < 0.3 && dams.length > 1
      ? { dams: dams.map((dam) => ({ id: dam, probability: random.next() < 0.5 ? '1/2' : '2/5' })) }
      : random.next() < 0.9
        ? { dam: dams[0] }
        : {}),
    sires: sires.map((sire, i) => ({ id: sire, probability: weights[i] })),
    paternity,
  };
}
