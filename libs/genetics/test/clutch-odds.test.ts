import { describe, expect, it } from '@jest/globals';
import { FaultsError, Fraction } from '@scutewright/basics';
import {
  type ClutchInput,
  type ClutchOdds,
  clutchOdds,
  keepersNeeded,
  type PaternityInput,
} from '@scutewright/genetics';
import fc from 'fast-check';
import { randomCross, ruleOf } from './random-cross.js';
import { rowsOf, type SlowYoung, slowHolds, slowYoung } from './slow-cross.js';

interface SlowEgg {
  readonly male: Fraction;
  readonly female: Fraction;
}

/** Chance per egg of a hatched target of each sex from certain parents, by listing every young. */
function slowEgg(
  input: ClutchInput,
  sire: Record<string, string>,
  dam: Record<string, string>,
): SlowEgg {
  const hatch = Fraction.parse(input.hatch ?? 1);
  const young = slowYoung(input, sire, dam).filter(
    (each) => !(input.lethal ?? []).some((rule) => slowHolds(rule, each)),
  );
  const of = (sex: string): Fraction =>
    young
      .filter((each: SlowYoung) => each.sex === sex && slowHolds(input.target as never, each))
      .reduce((sum, each) => sum.plus(each.probability), Fraction.zero)
      .times(hatch);
  return { male: of('m'), female: of('f') };
}

/** Every egg in turn is a male target, a female target or neither: adds up the paths by (males, females). */
function addEgg(paths: Map<string, Fraction>, egg: SlowEgg): Map<string, Fraction> {
  const next = new Map<string, Fraction>();
  const neither = egg.male.plus(egg.female).complement();
  for (const [key, chance] of paths) {
    const [m, f] = key.split(',').map(Number);
    for (const [to, share] of [
      [`${m + 1},${f}`, egg.male],
      [`${m},${f + 1}`, egg.female],
      [`${m},${f}`, neither],
    ] as const) {
      next.set(to, (next.get(to) ?? Fraction.zero).plus(chance.times(share)));
    }
  }
  return next;
}

/** Every dam, every genotype of every male, every assignment of sires to eggs, listed. */
function slowClutch(
  input: ClutchInput,
  assignments: readonly { readonly sires: readonly number[]; readonly weight: Fraction }[],
): Map<string, Fraction> {
  const total = new Map<string, Fraction>();
  const males = input.sires!.map((sire) => rowsOf(sire.genotypes!));
  for (const dam of rowsOf(input.dam!)) {
    for (const choice of combinations(males.map((rows) => rows.length))) {
      const chosen = choice.map((row, k) => males[k][row]);
      const weight = chosen.reduce(
        (product, row) => product.times(row.probability),
        dam.probability,
      );
      const eggs = chosen.map((row) => slowEgg(input, row.genotypes, dam.genotypes));
      for (const { sires, weight: share } of assignments) {
        let paths = new Map([['0,0', weight.times(share)]]);
        for (const k of sires) paths = addEgg(paths, eggs[k]);
        for (const [key, chance] of paths) {
          total.set(key, (total.get(key) ?? Fraction.zero).plus(chance));
        }
      }
    }
  }
  return total;
}

function combinations(sizes: readonly number[]): number[][] {
  return sizes.reduce<number[][]>(
    (so, size) => so.flatMap((list) => Array.from({ length: size }, (_, i) => [...list, i])),
    [[]],
  );
}

/** The ways in which eggs may come by two or three sires, by the words of the paternity. */
function assignmentsOf(
  paternity: Exclude<PaternityInput, string>,
  weights: readonly Fraction[],
  eggs: number,
) {
  const rate = 'rate' in paternity ? Fraction.parse(paternity.rate) : Fraction.zero;
  const one = weights.map((weight, k) => ({
    sires: new Array<number>(eggs).fill(k),
    weight: paternity.kind === 'EACH_OWN_SIRE' ? Fraction.zero : weight.times(rate.complement()),
  }));
  const own = combinations(new Array<number>(eggs).fill(weights.length)).map((sires) => ({
    sires,
    weight: sires
      .reduce((product, k) => product.times(weights[k]), Fraction.one)
      .times(
        paternity.kind === 'EACH_OWN_SIRE'
          ? Fraction.one
          : paternity.kind === 'MIXED'
            ? rate
            : Fraction.zero,
      ),
  }));
  if (paternity.kind !== 'TWO_SIRES') return [...one, ...own];
  const ordered = combinations([weights.length, weights.length]).filter(([a, b]) => a !== b);
  const differ = ordered.reduce(
    (sum, [a, b]) => sum.plus(weights[a].times(weights[b])),
    Fraction.zero,
  );
  const two = ordered.flatMap(([a, b]) =>
    combinations(new Array<number>(eggs).fill(2)).map((sides) => ({
      sires: sides.map((side) => (side === 0 ? a : b)),
      weight: weights[a]
        .times(weights[b])
        .over(differ)
        .times(rate)
        .times(Fraction.of(1, 2 ** eggs)),
    })),
  );
  return [...one, ...two];
}

const randomClutch = randomCross.chain((cross) => {
  const { sire, ...rest } = cross;
  return fc
    .record({
      target: ruleOf(cross.loci),
      eggs: fc.integer({ min: 0, max: 4 }),
      hatch: fc.constantFrom('1', '3/5', '0'),
      second: fc.constantFrom(...rowsOf(sire!).map((row) => row.genotypes)),
      paternity: fc.constantFrom<Exclude<PaternityInput, string>>(
        { kind: 'ONE_SIRE' },
        { kind: 'EACH_OWN_SIRE' },
        { kind: 'MIXED', rate: '3/10' },
        { kind: 'TWO_SIRES', rate: '1/4' },
      ),
    })
    .map(({ second, ...asked }): ClutchInput & { eggs: number } => ({
      ...rest,
      traits: [],
      sires: [
        { id: 'first', probability: '2/3', genotypes: sire },
        { id: 'second', probability: '1/3', genotypes: second },
      ],
      ...asked,
    }));
});

function expectMatches(
  found: ClutchOdds,
  paths: ReadonlyMap<string, Fraction>,
  eggs: number,
): void {
  const total = (holds: (m: number, f: number) => boolean): string =>
    [...paths]
      .filter(([key]) => {
        const [m, f] = key.split(',').map(Number);
        return holds(m, f);
      })
      .reduce((sum, [, chance]) => sum.plus(chance), Fraction.zero)
      .toString();
  for (let k = 0; k <= eggs; k++) {
    expect(String(found.exact!.counts[k])).toBe(total((m, f) => m + f === k));
  }
  expect(String(found.exact!.atLeastOne.any)).toBe(total((m, f) => m + f > 0));
  expect(String(found.exact!.atLeastOne.male)).toBe(total((m) => m > 0));
  expect(String(found.exact!.atLeastOne.female)).toBe(total((_, f) => f > 0));
  expect(String(found.exact!.atLeastOne.eachSex)).toBe(total((m, f) => m > 0 && f > 0));
}

describe('clutchOdds against listing every sire of every egg', () => {
  it('agrees on random clutches: two candidate sires, all four paternities, hatching, lethal genotypes', () => {
    fc.assert(
      fc.property(randomClutch, (input) => {
        const weights = [Fraction.of(2, 3), Fraction.of(1, 3)];
        const ways = assignmentsOf(
          input.paternity as Exclude<PaternityInput, string>,
          weights,
          input.eggs,
        );
        expectMatches(clutchOdds(input), slowClutch(input, ways), input.eggs);
      }),
      { numRuns: 100, seed: 11 },
    );
  });

  it('several clutches of the pair draw their sires anew but share what the parents are', () => {
    fc.assert(
      fc.property(randomClutch, fc.integer({ min: 1, max: 2 }), (input, second) => {
        const weights = [Fraction.of(2, 3), Fraction.of(1, 3)];
        const paternity = input.paternity as Exclude<PaternityInput, string>;
        const first = Math.min(input.eggs, 2);
        const ways = assignmentsOf(paternity, weights, first).flatMap((a) =>
          assignmentsOf(paternity, weights, second).map((b) => ({
            sires: [...a.sires, ...b.sires],
            weight: a.weight.times(b.weight),
          })),
        );
        const found = clutchOdds({ ...input, eggs: [first, second] });
        expectMatches(found, slowClutch(input, ways), first + second);
      }),
      { numRuns: 40, seed: 13 },
    );
  });

  it('young already seen move the parents as the ratio of chances says', () => {
    fc.assert(
      fc.property(randomClutch, fc.integer({ min: 0, max: 2 }), (input, target) => {
        // P(next | seen) = P(seen and next) / P(seen): both from clutches that hatch in full.
        const sure = { ...input, hatch: 1, lethal: [] };
        const looked = 2;
        const before = clutchOdds({ ...sure, eggs: [looked] }).exact!.counts[
          Math.min(target, looked)
        ];
        if (before.isZero) {
          const ask = () => clutchOdds({ ...sure, eggs: 2, seen: [{ looked, target }] });
          expect(ask).toThrow(/cannot come from these parents/);
          return;
        }
        const after = clutchOdds({ ...sure, eggs: 2, seen: [{ looked, target }] });
        const weights = [Fraction.of(2, 3), Fraction.of(1, 3)];
        const ways = assignmentsOf(input.paternity as never, weights, 2);
        let both = Fraction.zero;
        for (const a of ways) {
          for (const b of ways) {
            const weight = a.weight.times(b.weight);
            if (weight.isZero) continue;
            both = both.plus(seenThenNone(sure, [...a.sires, ...b.sires], target).times(weight));
          }
        }
        expect(String(after.exact!.counts[0])).toBe(String(both.over(before)));
      }),
      { numRuns: 8, seed: 17 },
    );
  });
});

/** Chance that of the first two eggs exactly `target` are of the target, and of the last two none. */
function seenThenNone(input: ClutchInput, sires: readonly number[], target: number): Fraction {
  let total = Fraction.zero;
  const males = input.sires!.map((sire) => rowsOf(sire.genotypes!));
  for (const dam of rowsOf(input.dam!)) {
    for (const choice of combinations(males.map((rows) => rows.length))) {
      const chosen = choice.map((row, k) => males[k][row]);
      const weight = chosen.reduce(
        (product, row) => product.times(row.probability),
        dam.probability,
      );
      const hits = sires.map((k) => {
        const egg = slowEgg(input, chosen[k].genotypes, dam.genotypes);
        return egg.male.plus(egg.female);
      });
      const [p, q, r, s] = hits;
      const two = [
        p.complement().times(q.complement()),
        p.times(q.complement()).plus(q.times(p.complement())),
        p.times(q),
      ][target];
      total = total.plus(weight.times(two).times(r.complement()).times(s.complement()));
    }
  }
  return total;
}

describe('eggs needed', () => {
  const loci = [{ id: 'a', alleles: ['N', 'a'] }];
  const ask = (dam: ClutchInput['dam'], levels: string[], hatch = '1') =>
    clutchOdds({ loci, trait: 'v = a/a', sire: { a: 'a/a' }, dam, eggs: 1, levels, hatch });
  const possibleHet = (chance: string, rest: string): ClutchInput['dam'] => [
    { probability: chance, genotypes: { a: 'N/a' } },
    { probability: rest, genotypes: { a: 'N/N' } },
  ];

  it('is the smallest number that reaches the level, and null at or above the limit', () => {
    const found = ask(possibleHet('2/3', '1/3'), ['1/3', '0.66', '2/3', '0.9', '0']);
    expect(found.eggsNeeded.map(({ eggs }) => eggs)).toEqual([1, 7, null, null, 0]);
    // 2/3 (1 - 2^-6) = 0.65625 and 2/3 (1 - 2^-7) = 0.6614...
    expect(String(found.limit)).toBe('2/3');
  });

  it('reaches its limit with one egg when every parent that can give the target is sure to', () => {
    const sure = ask(
      [
        { probability: '1/4', genotypes: { a: 'a/a' } },
        { probability: '3/4', genotypes: { a: 'N/N' } },
      ],
      ['1/4', '1/3'],
    );
    expect(sure.eggsNeeded.map(({ eggs }) => eggs)).toEqual([1, null]);
  });

  it('agrees with counting eggs one at a time', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 4, max: 20 }),
        fc.integer({ min: 1, max: 99 }),
        (het, hatch, level) => {
          const dam = possibleHet(`${het}/10`, `${10 - het}/10`);
          const [{ eggs }] = ask(dam, [`${level}/100`], `${hatch}/20`).eggsNeeded;
          const p = Fraction.of(hatch, 40);
          const reached = (n: number): boolean =>
            Fraction.of(het, 10)
              .times(p.complement().power(n).complement())
              .compare(Fraction.of(level, 100)) >= 0;
          let n = 1;
          while (n < 200 && !reached(n)) n++;
          expect(eggs).toBe(level >= het * 10 ? null : n);
        },
      ),
      { numRuns: 150, seed: 19 },
    );
  });

  it('finds millions of eggs without counting to them', () => {
    const [{ eggs }] = ask({ a: 'N/a' }, ['1/2'], '1/1000000').eggsNeeded;
    // ln 2 / -ln(1 - 5e-7)
    expect(eggs).toBe(Math.ceil(Math.LN2 / -Math.log1p(-5e-7)));
  });
});

describe('large clutches', () => {
  const question = {
    loci: [{ id: 'a', alleles: ['N', 'a'] }],
    trait: 'v = a/a',
    sire: { a: 'N/a' },
    dam: { a: 'N/a' },
  };

  it('numbers agree with exact fractions where both are given', () => {
    const long = clutchOdds({ ...question, eggs: 501 });
    expect(long.exact).toBeNull();
    const p = Fraction.of(1, 4);
    let choose = 1n;
    for (let k = 0; k <= 501; k++) {
      const exact = Fraction.of(choose)
        .times(p.power(k))
        .times(p.complement().power(501 - k))
        .toNumber();
      expect(Math.abs(long.counts[k] - exact)).toBeLessThan(1e-12);
      choose = (choose * BigInt(501 - k)) / BigInt(k + 1);
    }
    const twice = clutchOdds({ ...question, eggs: [250, 251] });
    for (let k = 0; k <= 501; k++) {
      expect(Math.abs(twice.counts[k] - long.counts[k])).toBeLessThan(1e-12);
    }
  });

  it('10,000 eggs add to 1, more are refused in words', () => {
    const { counts } = clutchOdds({ ...question, eggs: 10_000 });
    expect(Math.abs(counts.reduce((sum, chance) => sum + chance, 0) - 1)).toBeLessThan(1e-9);
    expect(() => clutchOdds({ ...question, eggs: 10_001 })).toThrow(/together at most 10,000/);
    expect(() => clutchOdds({ ...question, eggs: -1 })).toThrow(FaultsError);
    expect(() => clutchOdds({ ...question, eggs: 2.5 })).toThrow(FaultsError);
  });
});

describe('keepersNeeded', () => {
  const loci = [{ id: 'a', alleles: ['N', 'a'] }];
  const carrier = { locus: 'a', genotypes: ['N/a'] };
  const traits = [
    {
      id: 'look',
      classes: [{ name: 'visual', when: { locus: 'a', genotypes: ['a/a'] } }],
      otherwise: 'normal',
    },
  ];

  it('agrees with listing what each of n keepers turns out to be', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 }), fc.integer({ min: 0, max: 6 }), (survive, n) => {
        const survival = Fraction.of(survive, 10);
        const dam = [
          { probability: '2/3', genotypes: { a: 'N/a' } },
          { probability: '1/3', genotypes: { a: 'N/N' } },
        ];
        const found = keepersNeeded({
          ...{ loci, traits, trait: 'look', target: 'normal', carrier, sire: { a: 'N/a' }, dam },
          survival: survival.toString(),
        });
        // Normal young are carriers with 2/3 out of het x het, 1/2 out of het x normal.
        const each = [
          [Fraction.of(2, 3), Fraction.of(2, 3)],
          [Fraction.of(1, 3), Fraction.half],
        ];
        let expected = 0;
        for (const [weight, carrying] of each) {
          const half = survival.times(carrying).times(Fraction.half);
          let paths = new Map([['0,0', weight]]);
          for (let i = 0; i < n; i++) paths = addEgg(paths, { male: half, female: half });
          for (const [key, chance] of paths) {
            const [m, f] = key.split(',').map(Number);
            if (m > 0 && f > 0) expected += chance.toNumber();
          }
        }
        expect(Math.abs(found.chance(n) - expected)).toBeLessThan(1e-12);
      }),
      { numRuns: 60, seed: 23 },
    );
  });

  it('gives the smallest number, or null where a sex or a carrier cannot come', () => {
    const base = { loci, traits, trait: 'look', target: 'normal', carrier };
    const sure = keepersNeeded({ ...base, sire: { a: 'a/a' }, dam: { a: 'N/N' } });
    // All carriers: 1 - 2 x 2^-n >= 0.9 from n = 5 on (0.9375; 0.875 with 4).
    expect(sure.keep).toBe(5);
    const maybe = [
      { probability: '1/2', genotypes: { a: 'N/a' } },
      { probability: '1/2', genotypes: { a: 'N/N' } },
    ];
    const half = keepersNeeded({ ...base, sire: maybe, dam: { a: 'N/N' } });
    expect([half.keep, String(half.limit)]).toEqual([null, '1/2']);
    const onlyMales = keepersNeeded({
      ...base,
      sire: { a: 'a/a' },
      dam: { a: 'N/N' },
      maleShare: 1,
    });
    expect(onlyMales.keep).toBeNull();
  });
});
