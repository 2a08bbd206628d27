import { describe, expect, it } from '@jest/globals';
import { FaultsError } from '@scutewright/basics';
import { crossOdds } from '@scutewright/genetics';
import {
  INBREEDING_COSTS,
  inbreedingSurvival,
  pairingValue,
  rankMates,
  targetChances,
} from '@scutewright/planning';
import fc from 'fast-check';

describe('inbreedingSurvival', () => {
  it('full-sib young keep 0.675 at 3.14 lethal equivalents (Ralls et al. 1988: cost 0.33)', () => {
    const [median] = INBREEDING_COSTS;
    expect(inbreedingSurvival(median.lethalEquivalents, 0.25)).toBeCloseTo(0.675, 3);
    expect(1 - inbreedingSurvival(median.lethalEquivalents, 0.25)).toBeCloseTo(0.33, 1);
  });

  it('multiplies over F and takes negative figures', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -2, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (b, F) => {
          const once = inbreedingSurvival(b, F);
          expect(inbreedingSurvival(b, 2 * F)).toBeCloseTo(once * once, 9);
        },
      ),
    );
    expect(inbreedingSurvival(-1.4, 0.25)).toBeGreaterThan(1);
    expect(() => inbreedingSurvival(3.14, 1.1)).toThrow(RangeError);
  });
});

describe('pairingValue', () => {
  const pairing = {
    ...{ clutches: 2, eggsPerClutch: 5, fertility: 0.8, hatch: 0.5, F: 0.25, target: 0.5 },
    lethalEquivalents: 3.14,
  };

  it('is the product of its parts', () => {
    const found = pairingValue(pairing);
    expect([found.eggs, found.fertileEggs, found.hatchlings]).toEqual([10, 8, 4]);
    // 4 x exp(-1.57 x 0.25) x 1/2
    expect(found.value).toBeCloseTo(1.3507, 4);
    expect(found.healthyHatchlings).toBeCloseTo(2.7015, 4);
  });

  it('names every number out of range', () => {
    try {
      pairingValue({ ...pairing, fertility: 1.2, clutches: -1, F: Number.NaN });
    } catch (error) {
      expect((error as FaultsError).faults.map((fault) => fault.message)).toEqual([
        ...['fertility is 1.2.', 'F is NaN.', 'clutches is -1.'],
      ]);
      return;
    }
    throw new Error('no fault was found');
  });
});

describe('targetChances', () => {
  const loci = [
    { id: 'p', alleles: ['n', 'a'] },
    { id: 'q', alleles: ['n', 'b', 'c'] },
    { id: 'x', alleles: ['n', 'd'], inheritance: 'x-linked' },
  ];
  const pale = { id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } };
  const either = {
    id: 'either',
    when: {
      any: [
        { locus: 'p', genotypes: ['a/a'] },
        {
          all: [
            { locus: 'q', genotypes: ['b/b', 'b/c'] },
            { locus: 'x', genotypes: ['d/d', 'd'] },
          ],
        },
      ],
    },
  };

  it('holds the textbook odds of the nine pairs (Mendel)', () => {
    const each = ['n/n', 'n/a', 'a/a'].map((genotype) => ({ p: { [genotype]: 1 } }));
    const asked = { trait: 'pale', target: 'shown' };
    const found = targetChances({ loci: loci.slice(0, 1), traits: [pale] }, asked, each, each);
    expect([...found]).toEqual([0, 0, 0, 0, 0.25, 0.5, 0, 0.5, 1]);
  });

  it('is what crossOdds says of each pair, over three loci, one of them sex-linked', () => {
    const odds = (genotypes: readonly string[]) =>
      fc
        .array(fc.integer({ min: 0, max: 4 }), {
          minLength: genotypes.length,
          maxLength: genotypes.length,
        })
        .filter((parts) => parts.some((part) => part > 0))
        .map((parts) => {
          const sum = parts.reduce((total, part) => total + part, 0);
          return genotypes.flatMap((genotype, i) =>
            parts[i] > 0 ? [{ genotype, text: `${parts[i]}/${sum}`, value: parts[i] / sum }] : [],
          );
        });
    const animal = (x: readonly string[]) =>
      fc.record({
        p: odds(['n/n', 'n/a', 'a/a']),
        q: odds(['n/n', 'n/b', 'b/b', 'b/c', 'c/c']),
        x: odds(x),
      });
    type Drawn = Record<string, { genotype: string; text: string; value: number }[]>;
    const inNumbers = (drawn: Drawn) =>
      Object.fromEntries(
        Object.entries(drawn).map(([id, list]) => [
          id,
          Object.fromEntries(list.map(({ genotype, value }) => [genotype, value])),
        ]),
      );
    const mixture = (drawn: Drawn, id: string) =>
      drawn[id].map(({ genotype, text }) => ({ probability: text, genotypes: { [id]: genotype } }));
    const definitions = { loci, traits: [either] };
    fc.assert(
      fc.property(
        fc.array(animal(['n', 'd']), { minLength: 2, maxLength: 2 }),
        fc.array(animal(['n/n', 'n/d', 'd/d']), { minLength: 3, maxLength: 3 }),
        (males, females) => {
          const found = targetChances(
            definitions,
            { trait: 'either', target: 'shown' },
            males.map(inNumbers),
            females.map(inNumbers),
          );
          for (const [m, sire] of males.entries()) {
            for (const [f, dam] of females.entries()) {
              const independent = loci.map(({ id }) => ({
                sire: mixture(sire, id),
                dam: mixture(dam, id),
              }));
              const { traits } = crossOdds({ ...definitions, independent });
              const expected = traits.either.classes.shown.toNumber();
              expect(found[m * females.length + f]).toBeCloseTo(expected, 12);
            }
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it('refuses a trait of more genotypes than can be looked through', () => {
    const many = Array.from({ length: 11 }, (_, i) => ({ id: `l${i}`, alleles: ['n', 'a'] }));
    const traits = [
      { id: 'all', when: { all: many.map(({ id }) => ({ locus: id, genotypes: ['a/a'] })) } },
    ];
    expect(() =>
      targetChances({ loci: many, traits }, { trait: 'all', target: 'shown' }, [], []),
    ).toThrow(/177147 genotypes/);
  });
});

describe('rankMates', () => {
  it('agrees with pairingValue on every pair, best first', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            F: fc.double({ min: 0, max: 0.5, noNaN: true }),
            p: fc.double({ min: 0, max: 1, noNaN: true }),
          }),
          { minLength: 6, maxLength: 6 },
        ),
        (cells) => {
          const ranked = rankMates({
            ...{ males: 2, females: 3, lethalEquivalents: 4.6, highestF: 0.25 },
            kinship: Float64Array.from(cells, (cell) => cell.F),
            target: Float64Array.from(cells, (cell) => cell.p),
            hatchlings: Float64Array.of(3, 1.5, 6),
            fertility: Float64Array.of(0.9, 0.4),
          });
          const expected = cells
            .map((cell, at) => ({
              at,
              F: cell.F,
              value: pairingValue({
                ...{ clutches: 1, fertility: [0.9, 0.4][Math.floor(at / 3)], hatch: 1 },
                ...{ eggsPerClutch: [3, 1.5, 6][at % 3], F: cell.F, target: cell.p },
                lethalEquivalents: 4.6,
              }).value,
            }))
            .filter((pair) => pair.F <= 0.25);
          expect(ranked).toHaveLength(expected.length);
          for (const pair of ranked) {
            const own = expected.find((each) => each.at === pair.male * 3 + pair.female)!;
            expect(pair.value).toBeCloseTo(own.value, 12);
          }
          for (let i = 1; i < ranked.length; i++) {
            expect(ranked[i].value).toBeLessThanOrEqual(ranked[i - 1].value);
          }
        },
      ),
    );
  });

  it('refuses broken columns in words', () => {
    const ask = () =>
      rankMates({
        ...{ males: 1, females: 1, lethalEquivalents: Number.NaN, highestF: 1 },
        kinship: Float64Array.of(2),
        target: new Float64Array(2),
        hatchlings: Float64Array.of(1),
        fertility: Float64Array.of(1),
      });
    expect(ask).toThrow(FaultsError);
    expect(ask).toThrow(
      /kinship number 0 is 2[\s\S]*target has 2 numbers[\s\S]*lethal equivalents/,
    );
  });
});
