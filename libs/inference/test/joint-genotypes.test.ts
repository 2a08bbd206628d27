import { describe, expect, it } from '@jest/globals';
import { seededRandom } from '@scutewright/basics';
import {
  inferProgram,
  jointGenotypes,
  PairGenotypes,
  type Program,
  type ProgramInput,
  readProgram,
} from '@scutewright/inference';
import fc from 'fast-check';
import { FLAVOURS } from './against-twin.js';
import { bruteForce } from './brute-force.js';
import { randomProgram } from './random-program.js';
import { LOCI, TRAITS, village } from './village.js';

/** Two different animals of a program. */
function drawPair(seed: number, animals: number): [number, number] {
  const random = seededRandom(seed);
  const first = random.below(animals);
  return [first, (first + 1 + random.below(animals - 1)) % animals];
}

/** The joint odds by fixing each genotype of one animal in turn. */
function byFixing(program: Program, locus: number, fixed: number, other: number): Float64Array {
  const n = program.loci[locus].genotypes.length;
  const at = (found: ReturnType<typeof inferProgram>, animal: number, genotype: number): number =>
    found.genotypes[animal * found.stride + found.offset[locus] + genotype];
  const separate = inferProgram(program);
  const joint = new Float64Array(n * n);
  for (let g = 0; g < n; g++) {
    const weights = Float64Array.from({ length: n }, (_, genotype) => Number(genotype === g));
    const known = { kind: 'likelihood' as const, animal: fixed, locus, weights };
    const given = inferProgram({ ...program, records: [...program.records, known] });
    if (!given.possible) continue;
    for (let h = 0; h < n; h++) joint[g * n + h] = at(separate, fixed, g) * at(given, other, h);
  }
  return joint;
}

function furthest(one: Float64Array, other: Float64Array): number {
  return one.reduce((most, p, i) => Math.max(most, Math.abs(p - other[i])), 0);
}

function transposed(square: Float64Array): Float64Array {
  const n = Math.sqrt(square.length);
  return square.map((_, i) => square[(i % n) * n + Math.floor(i / n)]);
}

/** Below any error of method, above the rounding of sums in another order. */
const TOLERANCE = 1e-9;

describe('jointGenotypes', () => {
  it.each(FLAVOURS.map((flavour) => [flavour.name, flavour] as const))(
    'equals fixing each genotype of the one and of the other: %s',
    (_, flavour) => {
      let tied = 0;
      fc.assert(
        fc.property(fc.nat(1_000_000), (seed) => {
          const { program } = readProgram(randomProgram(seed, flavour));
          const [first, second] = drawPair(seed, program.sex.length);
          const { possible, pairs, effort } = jointGenotypes(program, first, second);
          expect(possible).toBe(inferProgram(program).possible);
          if (!possible) return;
          expect(effort.method).toBe('exact');
          for (const [locus, joint] of pairs.entries()) {
            const ways = [
              byFixing(program, locus, first, second),
              transposed(byFixing(program, locus, second, first)),
            ];
            for (const way of ways) expect(furthest(joint, way)).toBeLessThan(TOLERANCE);
            if (furthest(joint, independent(joint)) > 1e-3) tied++;
          }
        }),
        { numRuns: 4, seed: 20_260_102 },
      );
      // Pairs that are independent anyhow would prove nothing.
      expect(tied).toBeGreaterThan(0);
    },
  );

  it.each(FLAVOURS.map((flavour) => [flavour.name, flavour] as const))(
    'equals the share of the worlds in which both have their genotype: %s',
    (_, flavour) => {
      let compared = 0;
      for (let seed = 0; seed < 200 && compared < 1; seed++) {
        const input = randomProgram(seed, flavour);
        const whole = bruteForce(input, 1_500);
        if (!whole || whole.total === 0) continue;
        const { program, animals } = readProgram(input);
        const [first, second] = drawPair(seed, animals.length);
        const { pairs } = jointGenotypes(program, first, second);
        for (const [l, { id: locus, genotypes }] of program.loci.entries()) {
          const worlds = genotypes.flatMap(({ text: one }) =>
            genotypes.map(({ text: other }) => {
              const fixed = [
                {
                  kind: 'likelihood' as const,
                  animal: animals[first],
                  locus,
                  genotypes: { [one]: 1 },
                },
                {
                  kind: 'likelihood' as const,
                  animal: animals[second],
                  locus,
                  genotypes: { [other]: 1 },
                },
              ];
              const evidence = [...(input.evidence ?? []), ...fixed];
              return bruteForce({ ...input, evidence })!.total / whole.total;
            }),
          );
          expect(furthest(pairs[l], Float64Array.from(worlds))).toBeLessThan(TOLERANCE);
        }
        compared++;
      }
      expect(compared).toBe(1);
    },
  );

  it('knows that full siblings share their parents', () => {
    // Two young of two certain hets: given that one is a visual, nothing changes; given an open dam, it does.
    const family = (dam: Readonly<Record<string, number | string>>): ProgramInput => ({
      loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '4/5', a: '1/5' } }],
      animals: [
        { id: 'Moss', sex: 'm' },
        { id: 'Fern', sex: 'f' },
        { id: 'one', sire: 'Moss', dam: 'Fern' },
        { id: 'two', sire: 'Moss', dam: 'Fern' },
      ],
      evidence: [
        { kind: 'prior', animal: 'Moss', locus: 'p', genotypes: { 'n/a': 1 } },
        { kind: 'prior', animal: 'Fern', locus: 'p', genotypes: dam },
      ],
    });
    const visuals = (dam: Readonly<Record<string, number | string>>): number =>
      jointGenotypes(readProgram(family(dam)).program, 2, 3).pairs[0][8];
    // Mendel: 1/4 each and independent; with a dam that is a het with chance 1/2, both or neither can be: 1/2 x 1/16.
    expect(visuals({ 'n/a': 1 })).toBeCloseTo(1 / 16, 12);
    expect(visuals({ 'n/n': '1/2', 'n/a': '1/2' })).toBeCloseTo(1 / 32, 12);
  });

  it('answers 0 throughout where the records contradict one another', () => {
    const { program } = readProgram({
      loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '4/5', a: '1/5' } }],
      animals: [
        { id: 'Moss', sex: 'm' },
        { id: 'young', sire: 'Moss' },
      ],
      evidence: [
        { kind: 'prior', animal: 'Moss', locus: 'p', genotypes: { 'a/a': 1 } },
        { kind: 'likelihood', animal: 'young', locus: 'p', genotypes: { 'n/n': 1 } },
      ],
    });
    const found = jointGenotypes(program, 0, 1);
    expect(found.possible).toBe(false);
    expect([...found.pairs[0]]).toEqual(new Array(9).fill(0));
  });
});

describe('jointGenotypes over several loci', () => {
  it('equals the share of the worlds in which both animals have their genotypes at all loci', () => {
    let compared = 0;
    for (let seed = 0; seed < 400 && compared < 4; seed++) {
      const input = randomProgram(seed, FLAVOURS[seed % FLAVOURS.length]);
      if (input.loci.length < 2) continue;
      const whole = bruteForce(input, 1_000);
      if (!whole || whole.total === 0) continue;
      const { program, animals } = readProgram(input);
      const pair = drawPair(seed, animals.length);
      const [rows] = jointGenotypes(program, ...pair, {}, [[0, 1]]).together!;
      const plain = (genotypes: readonly string[]): string[] =>
        genotypes.map((text, k) => {
          const { alleles } = program.loci[k];
          const order = (one: string, other: string) =>
            alleles.indexOf(one) - alleles.indexOf(other);
          return text.split('/').sort(order).join('/');
        });
      const sums = new Map<string, number>();
      for (const { first, second, probability } of rows) {
        const key = JSON.stringify([plain(first), plain(second)]);
        sums.set(key, (sums.get(key) ?? 0) + probability);
      }
      for (const [key, probability] of sums) {
        const fixed = (JSON.parse(key) as string[][]).flatMap((genotypes, side) =>
          genotypes.map((genotype, k) => ({
            kind: 'likelihood' as const,
            animal: animals[pair[side]],
            locus: program.loci[k].id,
            genotypes: { [genotype]: 1 },
          })),
        );
        const evidence = [...(input.evidence ?? []), ...fixed];
        const share = bruteForce({ ...input, evidence })!.total / whole.total;
        expect(Math.abs(share - probability)).toBeLessThan(TOLERANCE);
      }
      expect([...sums.values()].reduce((a, b) => a + b)).toBeCloseTo(1, 9);
      compared++;
    }
    expect(compared).toBe(4);
  });

  it('tells which of two genes a look may come from, and that it is the one or the other', () => {
    // Pale by either of two genes: a pale animal of unknown parents has it from the one or from the other.
    const locus = (id: string) => ({
      id,
      alleles: ['n', id],
      frequencies: { n: '9/10', [id]: '1/10' },
    });
    const { program } = readProgram({
      loci: [locus('a'), locus('b')],
      traits: [
        {
          id: 'pale',
          when: {
            any: [
              { locus: 'a', genotypes: ['a/a'] },
              { locus: 'b', genotypes: ['b/b'] },
            ],
          },
        },
      ],
      animals: [
        { id: 'Moss', sex: 'm' },
        { id: 'Fern', sex: 'f' },
      ],
      evidence: [{ kind: 'phenotype', animal: 'Moss', trait: 'pale', seen: true }],
    });
    const [rows] = jointGenotypes(program, 0, 1, {}, [[0, 1]]).together!;
    const of = (a: string, b: string) =>
      rows.reduce(
        (sum, { first, probability }) => sum + (`${first}` === `${a},${b}` ? probability : 0),
        0,
      );
    // Hardy and Weinberg 1908: one pale gene has 0.01; shown 1 - 0.99^2 = 0.0199.
    expect(of('a/a', 'n/n')).toBeCloseTo((0.01 * 0.81) / 0.0199, 12);
    expect(of('a/a', 'b/b')).toBeCloseTo((0.01 * 0.01) / 0.0199, 12);
    expect(of('n/n', 'n/n')).toBe(0);
  });

  it('keeps together what lies on one chromosome', () => {
    const locus = (id: string) => ({
      id,
      alleles: ['n', id],
      frequencies: { n: '9/10', [id]: '1/10' },
    });
    const prior = (animal: string, locus: string, genotype: string) => ({
      kind: 'prior' as const,
      animal,
      locus,
      genotypes: { [genotype]: 1 },
    });
    const { program } = readProgram({
      loci: [locus('a'), locus('b')],
      linkage: [{ loci: ['a', 'b'], r: '1/10' }],
      animals: [
        { id: 'Moss', sex: 'm' },
        { id: 'Fern', sex: 'f' },
        { id: 'one', sire: 'Moss', dam: 'Fern' },
        { id: 'Reed', sex: 'f' },
      ],
      evidence: [
        ...[prior('Moss', 'a', 'a/a'), prior('Moss', 'b', 'n/n')],
        ...[prior('Fern', 'a', 'n/n'), prior('Fern', 'b', 'b/b')],
        ...[prior('Reed', 'a', 'n/n'), prior('Reed', 'b', 'n/n')],
      ],
    });
    const [rows] = jointGenotypes(program, 2, 3, {}, [[0, 1]]).together!;
    expect(rows).toHaveLength(1);
    const [[a, b]] = rows.map(({ first }) => first.map((genotype) => genotype.split('/')));
    // a came from the one parent and b from the other: never on one side.
    expect([`${a[0]} ${b[0]}`, `${a[1]} ${b[1]}`].sort()).toEqual(['a n', 'n b']);
  });
});

describe('PairGenotypes', () => {
  it.each(FLAVOURS.map((flavour) => [flavour.name, flavour] as const))(
    'tells from one run of any two what a run of their own does: %s',
    (_, flavour) => {
      let pairs = 0;
      fc.assert(
        fc.property(fc.nat(1_000_000), (seed) => {
          const { program } = readProgram(randomProgram(seed, flavour));
          const animals = [...program.sex.keys()];
          const groups = program.loci.length > 1 ? [[0, 1]] : [];
          const all = new PairGenotypes(program, animals);
          expect(all.isExact).toBe(true);
          for (let k = 0; k < 3; k++) {
            const pair = drawPair(seed + k, animals.length);
            const alone = jointGenotypes(program, ...pair, {}, groups);
            const found = all.of(...pair, groups);
            expect(found.possible).toBe(alone.possible);
            for (const [l, joint] of alone.pairs.entries()) {
              expect(furthest(joint, found.pairs[l])).toBeLessThan(TOLERANCE);
            }
            expect(byName(found)).toEqual(byName(alone));
            pairs++;
          }
        }),
        { numRuns: 4, seed: 20_260_103 },
      );
      expect(pairs).toBeGreaterThan(0);
    },
  );

  it('leaves out what would be too many combinations, and still tells each locus', () => {
    const ids = ['a', 'b', 'c', 'd', 'e', 'f'];
    const { program } = readProgram({
      loci: ids.map((id) => ({ id, alleles: ['n', id], frequencies: { n: '9/10', [id]: '1/10' } })),
      animals: [
        { id: 'Moss', sex: 'm' },
        { id: 'Fern', sex: 'f' },
      ],
    });
    // Nine combinations a locus: three loci have 729, six 531,441.
    const { together } = jointGenotypes(program, 0, 1, {}, [[0, 1, 2]]);
    expect(together?.[0]).toHaveLength(729);
    const all = jointGenotypes(program, 0, 1, {}, [[0, 1, 2, 3, 4, 5]]);
    expect(all.together).toBeNull();
    // Hardy and Weinberg 1908: both visual at one locus, 0.1^4.
    for (const joint of all.pairs) expect(joint[8]).toBeCloseTo(0.0001, 12);
  });

  it('refuses an animal that it was not made for', () => {
    const { program } = readProgram(village(1, 1));
    expect(() => new PairGenotypes(program, [0, 1]).of(0, 2)).toThrow('a pair is of the animals');
  });
});

describe('jointGenotypes of what does not fit', () => {
  /** Ten clutches of the village with a second locus, whose trait was noted whenever the first was. */
  const twoLoci = (seed: number): Program => {
    const input = village(seed, 1);
    const animals = input.animals.slice(0, 28);
    const taken = new Set(animals.map(({ id }) => id));
    return readProgram({
      animals,
      clutches: (input.clutches ?? []).slice(0, 10),
      loci: [...LOCI, { ...LOCI[0], id: 's' }],
      traits: [...TRAITS, { id: 'dark', when: { locus: 's', genotypes: ['a/a'] } }],
      evidence: (input.evidence ?? []).flatMap((entry, i) =>
        entry.kind === 'phenotype' && taken.has(entry.animal)
          ? [entry, { ...entry, trait: 'dark', seen: i % 9 === 0 }]
          : [],
      ),
    }).program;
  };
  const [first, second] = [9, 27];
  const cases = [1, 2, 3, 4, 5].map((seed) => {
    const program = twoLoci(seed);
    return { program, whole: jointGenotypes(program, first, second, { budgetBits: 26 }) };
  });

  it('says so where it deletes states, and stays within the mass it reports', () => {
    let deleted = 0;
    for (const { program, whole } of cases) {
      if (deleted > 0) break;
      const budgetBits = Math.log2(whole.effort.entries) - 1.5;
      const found = jointGenotypes(program, first, second, { budgetBits, rounds: 4 });
      if (found.effort.method !== 'states deleted') continue;
      deleted++;
      for (const [l, joint] of whole.pairs.entries()) {
        // The reported mass is first order, as for the separate posteriors.
        expect(furthest(joint, found.pairs[l])).toBeLessThan(2 * found.effort.deletedMass);
      }
    }
    expect(deleted).toBeGreaterThan(0);
  });

  it('says so where it samples, and stays within a few standard errors', () => {
    const { program, whole } = cases[4];
    const budgetBits = Math.log2(whole.effort.entries) - 2.5;
    const { pairs, effort } = jointGenotypes(program, first, second, { budgetBits, rounds: 64 });
    expect(effort.method).toBe('sampled');
    expect(effort.monteCarloError).toBeLessThan(0.1);
    for (const [l, joint] of whole.pairs.entries()) {
      expect(furthest(joint, pairs[l])).toBeLessThan(6 * effort.monteCarloError + 0.02);
    }
  });
});

/** Combinations of the first group with their odds to nine places, in the order of their names. */
function byName({ together }: ReturnType<typeof jointGenotypes>): (readonly [string, string])[] {
  return (together?.[0] ?? [])
    .filter(({ probability }) => probability > 1e-9)
    .map(
      ({ first, second, probability }) => [`${first} ${second}`, probability.toFixed(9)] as const,
    )
    .sort();
}

/** What the joint odds would be, were the two independent. */
function independent(joint: Float64Array): Float64Array {
  const n = Math.sqrt(joint.length);
  const [rows, columns] = [new Float64Array(n), new Float64Array(n)];
  for (const [i, p] of joint.entries()) {
    rows[Math.floor(i / n)] += p;
    columns[i % n] += p;
  }
  return joint.map((_, i) => rows[Math.floor(i / n)] * columns[i % n]);
}
