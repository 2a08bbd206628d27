import {
  type GenotypePosteriors,
  genotypePosteriors,
  type ProgramInput,
} from '@scutewright/inference';
import { type BruteForce, bruteForce } from './brute-force.js';
import { type Flavour, randomProgram } from './random-program.js';

export const FLAVOURS: readonly Flavour[] = [
  { name: 'one locus, known parents', loci: 'one', clutches: false, counts: false, finds: false },
  {
    name: 'one locus, uncertain sires and dams',
    loci: 'one',
    clutches: true,
    counts: false,
    finds: false,
  },
  {
    name: 'a series of three alleles',
    loci: 'series',
    clutches: true,
    counts: false,
    finds: false,
  },
  { name: 'counts and lots', loci: 'one', clutches: true, counts: true, finds: false },
  { name: 'several possible clutches', loci: 'one', clutches: true, counts: false, finds: true },
  { name: 'sex-linked', loci: 'sex-linked', clutches: true, counts: true, finds: false },
  { name: 'two loci under one trait', loci: 'two', clutches: true, counts: true, finds: false },
  { name: 'linked loci', loci: 'linked', clutches: true, counts: false, finds: false },
  {
    name: 'look-alikes that may be one gene',
    loci: 'look-alikes',
    clutches: true,
    counts: true,
    finds: false,
  },
];

/** Sums of thousands of doubles in another order: 1e-9 is far above their noise and below any error of method. */
const TOLERANCE = 1e-9;

export function verifyAgainstTwin(
  input: ProgramInput,
  found: GenotypePosteriors,
  twin: BruteForce,
): void {
  if (found.possible !== twin.total > 0) throw new Error(`possible: ${found.possible}`);
  if (twin.total === 0) return;
  const off = Math.abs(found.evidenceProbability / twin.total - 1);
  if (!(off < TOLERANCE))
    throw new Error(`evidence: ${found.evidenceProbability} for ${twin.total}`);
  const compare = (
    what: string,
    actual: Map<string, number>,
    expected: Map<string, number>,
  ): void => {
    for (const key of new Set([...actual.keys(), ...expected.keys()])) {
      const difference = Math.abs((actual.get(key) ?? 0) - (expected.get(key) ?? 0));
      if (!(difference < TOLERANCE)) {
        throw new Error(`${what} ${key}: ${actual.get(key)} for ${expected.get(key)}`);
      }
    }
  };
  const flat = (
    byKey: Readonly<Record<string, Readonly<Record<string, number>>>>,
  ): Map<string, number> =>
    new Map(
      Object.entries(byKey).flatMap(([id, odds]) =>
        Object.entries(odds).map(([key, p]) => [`${id} ${key}`, p] as const),
      ),
    );
  const genotypes = new Map<string, number>();
  for (const [id, loci] of Object.entries(found.genotypes)) {
    for (const [locus, odds] of Object.entries(loci)) {
      for (const [genotype, p] of Object.entries(odds))
        genotypes.set(`${id} ${locus} ${genotype}`, p);
    }
  }
  compare('genotype', genotypes, twin.genotypes);
  const listed = (map: Map<string, number>, by: Readonly<Record<string, unknown>>) =>
    new Map([...map].filter(([key]) => key.split(' ')[0] in by));
  compare('sire', flat(found.sires), listed(twin.sires, found.sires));
  compare('dam', flat(found.dams), listed(twin.dams, found.dams));
  compare('clutch', flat(found.clutches), listed(twin.clutches, found.clutches));
  const combinations = new Map(
    Object.entries(found.clutchSires).flatMap(([clutch, list]) =>
      list.map(({ sires, probability }) => [`${clutch} ${sires.join()}`, probability] as const),
    ),
  );
  const withYoung = Object.fromEntries(
    Object.keys(found.clutchSires)
      .filter((clutch) => input.animals.some((animal) => animal.clutch === clutch))
      .map((clutch) => [clutch, true]),
  );
  compare('clutch sires', listed(combinations, withYoung), listed(twin.clutchSires, withYoung));
  for (const [h, p] of Object.values(found.oneGene).entries()) {
    if (!(Math.abs(p - twin.oneGene[h]) < TOLERANCE)) throw new Error(`one gene: ${p}`);
  }
}

/** The long run for `npm run verify`: every kind of program, many seeds; answers how many were compared. */
export function compareMany(
  seeds: number,
  mostSteps: number,
): { compared: number; possible: number } {
  let [compared, possible] = [0, 0];
  for (const flavour of FLAVOURS) {
    for (let seed = 0; seed < seeds; seed++) {
      const input = randomProgram(seed, flavour);
      const twin = bruteForce(input, mostSteps);
      if (!twin) continue;
      compared++;
      if (twin.total > 0) possible++;
      verifyAgainstTwin(input, genotypePosteriors(input), twin);
    }
  }
  return { compared, possible };
}
