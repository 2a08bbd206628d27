import { describe, expect, it } from '@jest/globals';
import { FaultsError, Fraction } from '@scutewright/basics';
import {
  type Chances,
  type CrossOdds,
  type CrossOddsInput,
  clutchOdds,
  crossOdds,
} from '@scutewright/genetics';
import fc from 'fast-check';
import { randomCross } from './random-cross.js';
import { type SlowYoung, slowClass, slowHolds, slowMixture, slowTotal } from './slow-cross.js';

/** The odds, or null where a random rule is met by no genotype or taken by earlier rules: that is refused. */
function oddsOf(input: CrossOddsInput): CrossOdds | null {
  try {
    return crossOdds(input);
  } catch (error) {
    if (!(error instanceof FaultsError)) throw error;
    expect(error.faults.map((fault) => fault.code)).toContain('RULE_NEVER_MET');
    return null;
  }
}

function expectSame(found: Fraction | undefined, expected: Fraction): void {
  expect(String(found ?? Fraction.zero)).toBe(String(expected));
}

describe('crossOdds against plain enumeration of every gamete', () => {
  it('agrees on random crosses: sex chromosomes, links, series, mixtures, lethal genotypes', () => {
    let compared = 0;
    fc.assert(
      fc.property(randomCross, (input) => {
        const loci = input.loci.map(({ id }) => id);
        const odds = oddsOf({ ...input, joint: [{ loci }] });
        if (!odds) return;
        compared++;
        const young = slowMixture(input);
        const isDead = (each: SlowYoung): boolean =>
          input.lethal!.some((rule) => slowHolds(rule, each));
        const dead = slowTotal(young, isDead);
        expectSame(odds.loss, dead);
        if (dead.equals(Fraction.one)) {
          expect(odds.looks).toEqual([]);
          return;
        }
        const alive = young.filter((each) => !isDead(each));
        const living = dead.complement();
        const share = (holds: (each: SlowYoung) => boolean): Fraction =>
          slowTotal(alive, holds).over(living);
        for (const name of ['one', 'two', 'none']) {
          const isClass = (each: SlowYoung): boolean => slowClass(input, 0, each) === name;
          expectSame(odds.traits.t.classes[name], share(isClass));
          for (const sex of ['m', 'f'] as const) {
            const both = (each: SlowYoung): boolean => isClass(each) && each.sex === sex;
            expectSame(odds.traits.t.bySex[sex][name], share(both));
          }
          for (const [locus, chances] of Object.entries(odds.traits.t.within[name] ?? {})) {
            for (const [text, chance] of Object.entries(chances)) {
              const both = (each: SlowYoung): boolean =>
                isClass(each) && each.genotypes[locus] === text;
              expectSame(chance, share(both).over(share(isClass)));
            }
          }
        }
        for (const id of loci) {
          for (const [text, chance] of Object.entries(odds.eggs[id])) {
            expectSame(
              chance,
              slowTotal(young, (each) => each.genotypes[id] === text),
            );
          }
          expectSame(sum(odds.eggs[id]), Fraction.one);
          expectSame(sum(odds.hatchlings[id]), Fraction.one);
        }
        for (const [text, chance] of Object.entries(odds.joint[0])) {
          const isIt = (each: SlowYoung): boolean =>
            loci.map((id) => each.genotypes[id]).join(' ') === text;
          expectSame(chance, share(isIt));
        }
        expectSame(sum(odds.joint[0]), Fraction.one);
      }),
      { numRuns: 150, seed: 5 },
    );
    expect(compared).toBeGreaterThan(60);
  });

  it('does not care whether mixtures are given apart or jointly, in one row or two', () => {
    fc.assert(
      fc.property(randomCross, (input) => {
        const apart = oddsOf(input);
        if (!apart) return;
        const { sire, dam, ...rest } = input;
        const joint = rows(sire).flatMap((s) =>
          rows(dam).map((d) => ({
            probability: Fraction.parse(s.probability)
              .times(Fraction.parse(d.probability))
              .toString(),
            sire: s.genotypes,
            dam: d.genotypes,
          })),
        );
        expect(text(crossOdds({ ...rest, parents: joint }))).toBe(text(apart));
        const twice = [...joint, ...joint].map((row) => ({
          ...row,
          probability: Fraction.parse(row.probability).times(Fraction.half).toString(),
        }));
        expect(text(crossOdds({ ...rest, parents: twice }))).toBe(text(apart));
      }),
      { numRuns: 30, seed: 7 },
    );
  });
});

describe('independent sets of loci', () => {
  it('answer as the mixture over all loci multiplied out', () => {
    const part = fc.constantFrom('0', '1/4', '2/3', '1');
    fc.assert(
      fc.property(fc.array(fc.tuple(part, part), { minLength: 2, maxLength: 3 }), (chances) => {
        const names = [...'ABC'].slice(0, chances.length);
        const mixture = (id: string, het: string) => [
          { probability: het, genotypes: { [id]: 'N/r' } },
          { probability: Fraction.parse(het).complement().toString(), genotypes: { [id]: 'r/r' } },
        ];
        const base = {
          loci: names.map((id) => ({ id, alleles: ['N', 'r'] })),
          traits: [
            { id: 'any', when: { any: names.map((id) => ({ locus: id, genotypes: ['r/r'] })) } },
          ],
          lethal: [{ all: names.map((id) => ({ locus: id, genotypes: ['r/r'] })) }],
          joint: [{ loci: names }],
        };
        const independent = names.map((id, i) => ({
          sire: mixture(id, chances[i][0]),
          dam: mixture(id, chances[i][1]),
        }));
        const multiplied = (side: 'sire' | 'dam') =>
          independent.reduce(
            (rows, block) =>
              rows.flatMap((row) =>
                block[side].map((own) => ({
                  probability: Fraction.parse(row.probability)
                    .times(Fraction.parse(own.probability))
                    .toString(),
                  genotypes: { ...row.genotypes, ...own.genotypes },
                })),
              ),
            [{ probability: '1', genotypes: {} as Record<string, string> }],
          );
        const all = { ...base, sire: multiplied('sire'), dam: multiplied('dam') };
        expect(text(crossOdds({ ...base, independent }))).toBe(text(crossOdds(all)));
        const asked = { trait: 'any', target: 'shown', eggs: 3, hatch: '1/2' };
        const apart = clutchOdds({ ...base, independent, ...asked });
        expect(text(apart.exact)).toBe(text(clutchOdds({ ...all, ...asked }).exact));
      }),
      { numRuns: 40, seed: 31 },
    );
  });
});

describe('harm, age and sex of the young', () => {
  const loci = [{ id: 'a', alleles: ['N', 'a'] }];
  const aa = { locus: 'a', genotypes: ['a/a'] };
  const het = { a: 'N/a' };

  it('counts the harmed among hatchlings and leaves them in', () => {
    const odds = crossOdds({
      loci,
      harmful: [{ name: 'weak eyes', when: aa }],
      sire: het,
      dam: het,
    });
    expect(String(odds.harmful['weak eyes'])).toBe('1/4');
    expect(odds.loss.isZero).toBe(true);
  });

  it('shows a trait only from its age and in its sex on', () => {
    const traits = [{ id: 'late', when: { all: [aa, { fromDays: 90 }, { sex: 'm' as const }] } }];
    const shownAt = (ageDays?: number, maleShare?: string) =>
      String(
        crossOdds({ loci, traits, sire: het, dam: het, ageDays, maleShare }).traits.late.classes
          .shown,
      );
    expect([shownAt(), shownAt(89), shownAt(90), shownAt(90, '1/5')]).toEqual([
      ...['1/8', '0', '1/8', '1/20'],
    ]);
  });

  it('gives empty odds, not NaN, where every egg is lost', () => {
    const odds = crossOdds({
      ...{ loci, lethal: [aa], sire: { a: 'a/a' }, dam: { a: 'a/a' } },
      traits: [{ id: 'pale', when: aa }],
    });
    expect(String(odds.loss)).toBe('1');
    expect([odds.hatchlings.a, odds.looks, odds.traits.pale.within]).toEqual([{}, [], {}]);
  });
});

describe('parents that are not independent', () => {
  const loci = [{ id: 'a', alleles: ['N', 'a'] }];
  const traits = [{ id: 'visual', when: { locus: 'a', genotypes: ['a/a'] } }];
  const het = { a: 'N/a' };
  const clear = { a: 'N/N' };

  it('two half sibs out of one 66 % possible het, both by clear sires: a visual with 1/24, not 1/36', () => {
    // Dam 2/3 het hands the allele to each with 1/2: both het 2/3 x 1/4, one of them 2/3 x 1/4 each.
    const parents = [
      { probability: '1/6', sire: het, dam: het },
      { probability: '1/6', sire: het, dam: clear },
      { probability: '1/6', sire: clear, dam: het },
      { probability: '1/2', sire: clear, dam: clear },
    ];
    expect(String(crossOdds({ loci, traits, parents }).traits.visual.classes.shown)).toBe('1/24');
    const third = [
      { probability: '1/3', genotypes: het },
      { probability: '2/3', genotypes: clear },
    ];
    const apart = crossOdds({ loci, traits, sire: third, dam: third });
    expect(String(apart.traits.visual.classes.shown)).toBe('1/36');
  });

  it('mixes candidate sires by their probabilities', () => {
    const odds = crossOdds({
      loci,
      traits,
      sires: [
        { id: 'M1', probability: '1/4', genotypes: { a: 'a/a' } },
        { id: 'M2', probability: '3/4', genotypes: clear },
      ],
      dam: het,
    });
    expect(String(odds.traits.visual.classes.shown)).toBe('1/8');
  });
});

describe('many loci', () => {
  const names = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmn'];
  const locus = (id: string) => ({ id, alleles: ['N', 'r'] });
  const recessive = (id: string) => ({ locus: id, genotypes: ['r/r'] });
  const het = (list: readonly string[]) => Object.fromEntries(list.map((id) => [id, 'N/r']));

  it('eight recessives in one look: none shows with (3/4)^8, all show with (1/4)^8', () => {
    const eight = names.slice(0, 8);
    const odds = crossOdds({
      loci: eight.map(locus),
      traits: [
        {
          id: 'look',
          classes: [
            { name: 'all', when: { all: eight.map(recessive) } },
            { name: 'some', when: { any: eight.map(recessive) } },
          ],
          otherwise: 'normal',
        },
        ...eight.map((id) => ({ id: `t${id}`, when: recessive(id) })),
      ],
      sire: het(eight),
      dam: het(eight),
    });
    expect(String(odds.traits.look.classes.normal)).toBe('6561/65536');
    expect(String(odds.traits.look.classes.all)).toBe('1/65536');
    expect(odds.looks).toHaveLength(256);
  });

  it('forty loci that only ask whether any recessive shows stay a chain', () => {
    const odds = crossOdds({
      loci: names.map(locus),
      traits: [{ id: 'any', when: { any: names.map(recessive) } }],
      sire: het(names),
      dam: het(names),
    });
    const none = Fraction.of(3, 4).power(40);
    expect(String(odds.traits.any.classes['not shown'])).toBe(String(none));
  });

  it('says so in words when a question truly multiplies out', () => {
    const twelve = names.slice(0, 12);
    const ask = () =>
      crossOdds({
        loci: twelve.map(locus),
        sire: het(twelve),
        dam: het(twelve),
        joint: [{ loci: twelve }],
      });
    expect(ask).toThrow(/more than 100,000 combinations/);
  });
});

describe('bad input', () => {
  it('is reported all at once, in words', () => {
    const bad: CrossOddsInput = {
      loci: [
        { id: 'a', alleles: ['N', 'a'] },
        { id: 'w', alleles: ['+', 'w'], inheritance: 'X' },
      ],
      linkage: [{ loci: ['a', 'w'], r: '0.6' }],
      lethal: [{ locus: 'q', genotypes: ['q/q'] }],
      maleShare: '0.3',
      sire: [
        { probability: '1.2', genotypes: { a: 'N/z', w: 'w/w' } },
        { probability: '1/2', genotypes: { a: 'N/a' } },
      ],
      dam: { a: 'N/a', w: '+/w', u: 'u/u' },
    };
    let codes: string[] = [];
    try {
      crossOdds(bad);
    } catch (error) {
      codes = (error as FaultsError).faults.map((fault) => fault.code);
    }
    expect(codes.sort()).toEqual([
      ...['BAD_LINKAGE', 'BAD_PROBABILITY', 'BAD_PROBABILITY', 'BAD_PROBABILITY'],
      ...['MISSING_GENOTYPE', 'UNKNOWN_GENOTYPE', 'UNKNOWN_LOCUS', 'UNKNOWN_LOCUS', 'WRONG_COPIES'],
    ]);
  });
});

function rows(mixture: CrossOddsInput['sire']) {
  return mixture as readonly { probability: string; genotypes: Record<string, string> }[];
}

function sum(chances: Chances): Fraction {
  return Object.values(chances).reduce((total, chance) => total.plus(chance), Fraction.zero);
}

/** Every figure as text, in an order of its own. */
function text(odds: unknown): string {
  const visit = (value: unknown): unknown => {
    if (value instanceof Fraction) return value.toString();
    if (Array.isArray(value))
      return value
        .map(visit)
        .map((each) => JSON.stringify(each))
        .sort();
    if (typeof value !== 'object' || value === null) return value;
    const entries = Object.entries(value).map(([key, inner]) => [key, visit(inner)] as const);
    return Object.fromEntries(entries.sort(([a], [b]) => (a < b ? -1 : 1)));
  };
  return JSON.stringify(visit(odds));
}
