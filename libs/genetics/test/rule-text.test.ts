import { describe, expect, it } from '@jest/globals';
import { FaultsError } from '@scutewright/basics';
import {
  genotypeLooks,
  lookGaps,
  type RuleInput,
  readLoci,
  readRuleText,
  readTraits,
  traitClass,
  writeRuleText,
} from '@scutewright/genetics';
import fc from 'fast-check';

const LOCI = [
  { id: 'pl', alleles: ['N', 'p'] },
  { id: 'and', alleles: ['+', 'a"b'] },
];
const loci = readLoci(LOCI);

const anyRule = fc.letrec<{ rule: RuleInput }>((tie) => ({
  rule: fc.oneof(
    { maxDepth: 4, depthSize: 'small' },
    ...[...loci.values()].map((locus) =>
      fc
        .subarray(locus.genotypes.map(({ text }) => text))
        .map((genotypes) => ({ locus: locus.id, genotypes })),
    ),
    fc.constantFrom<RuleInput>({ sex: 'm' }, { sex: 'f' }, { fromDays: 730 }, { fromDays: 0.5 }),
    fc.array(tie('rule'), { maxLength: 3 }).map((all) => ({ all })),
    fc.array(tie('rule'), { maxLength: 3 }).map((any) => ({ any })),
    tie('rule').map((not) => ({ not })),
  ),
})).rule;

/** Whether every animal of both sexes, young and grown, that the loci allow shows it. */
function truth(when: RuleInput): boolean[] {
  const seen: boolean[] = [];
  for (const pl of [0, 1, 2]) {
    for (const and of [0, 1, 2]) {
      for (const sex of ['m', 'f'] as const) {
        for (const ageDays of [0, 1, Number.POSITIVE_INFINITY]) {
          seen.push(holds(when, { pl, and }, sex, ageDays));
        }
      }
    }
  }
  return seen;
}

/** The rule by its definition, without the kernel. */
function holds(
  rule: RuleInput,
  genotypes: Record<string, number>,
  sex: 'm' | 'f',
  age: number,
): boolean {
  if ('locus' in rule) {
    return rule.genotypes.includes(
      loci.get(rule.locus)!.genotypes[genotypes[rule.locus]]?.text ?? '',
    );
  }
  if ('all' in rule) return rule.all.every((each) => holds(each, genotypes, sex, age));
  if ('any' in rule) return rule.any.some((each) => holds(each, genotypes, sex, age));
  if ('not' in rule) return !holds(rule.not, genotypes, sex, age);
  if ('sex' in rule) return rule.sex === sex;
  return age >= rule.fromDays;
}

describe('rule text', () => {
  it('reads what it writes: the same animals show it, and the text stays as it is', () => {
    fc.assert(
      fc.property(anyRule, (rule) => {
        const text = writeRuleText(rule);
        const read = readRuleText(text);
        expect(truth(read)).toEqual(truth(rule));
        expect(writeRuleText(read)).toBe(text);
      }),
      { numRuns: 500 },
    );
  });

  it('binds and closer than or', () => {
    expect(readRuleText('a = x/x or b = y/y AND NOT sex = f')).toEqual({
      any: [
        { locus: 'a', genotypes: ['x/x'] },
        { all: [{ locus: 'b', genotypes: ['y/y'] }, { not: { sex: 'f' } }] },
      ],
    });
  });

  it.each([
    ['', 'character 1'],
    ['pl', "'='"],
    ['pl = p/p and', 'character 13'],
    ['(pl = p/p', "')'"],
    ['pl = p/p pl = p/p', "'pl' stands there"],
    ['age >= soon', 'not an age'],
    ['sex = x', "'m' or 'f'"],
    ['pl = p/p <', "'<' has no meaning"],
    ['pl = "p', `'"' has no meaning`],
    [`${'('.repeat(99)}pl = p/p`, 'too deep'],
  ])('says where %j cannot be read', (text, words) => {
    expect(() => readRuleText(text)).toThrow(FaultsError);
    expect(() => readRuleText(text)).toThrow(words);
  });

  it('never throws anything else, whatever is typed', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc
            .array(
              fc.constantFrom('pl', '=', '|', '(', ')', 'and', 'not', 'age', '>=', '7', '"', 'p/p'),
            )
            .map((words) => words.join(' ')),
        ),
        (text) => {
          try {
            expect(typeof writeRuleText(readRuleText(text))).toBe('string');
          } catch (error) {
            expect(error).toBeInstanceOf(FaultsError);
          }
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('looks of genotypes', () => {
  const smoke = readLoci([
    { id: 'sm', alleles: ['N', 'S'] },
    { id: 'pl', alleles: ['N', 'p'] },
  ]);
  const text = (locus: string, genotype: number) => smoke.get(locus)!.genotypes[genotype].text;

  it('lists who shows what, and says where two traits clash and where none speaks', () => {
    const traits = readTraits(
      [
        { id: 'smoke', when: readRuleText('sm = N/S | S/S') },
        { id: 'deep smoke', when: readRuleText('sm = S/S and age >= 365') },
        { id: 'grey young', when: readRuleText('(sm = S/S or pl = p/p) and not age >= 365') },
      ],
      smoke,
    );
    const looks = genotypeLooks(smoke, traits);
    expect(
      looks.map(({ locus, genotype, shows }) => [
        `${locus}=${text(locus, genotype)}`,
        shows.map(({ trait, young, grown }) => `${trait}${young ? ' y' : ''}${grown ? ' g' : ''}`),
      ]),
    ).toEqual([
      ['sm=N/N', []],
      ['sm=N/S', ['smoke y g']],
      ['sm=S/S', ['smoke y g', 'deep smoke g', 'grey young y']],
      ['pl=N/N', []],
      ['pl=N/p', []],
      ['pl=p/p', ['grey young y']],
    ]);
    expect(lookGaps(looks, traits, smoke)).toEqual([
      { locus: 'sm', genotype: 2, traits: ['smoke', 'deep smoke'] },
    ]);
    const [only] = readTraits([{ id: 'x', when: readRuleText('sm = N/S') }], smoke).values();
    expect(
      lookGaps(genotypeLooks(smoke, new Map([['x', only]])), new Map([['x', only]]), smoke),
    ).toEqual([
      { locus: 'sm', genotype: 2, traits: [] },
      { locus: 'pl', genotype: 2, traits: [] },
    ]);
  });

  it('tells the sex that shows it', () => {
    const traits = readTraits(
      [{ id: 'x', when: readRuleText('pl = p/p and sex = m and age >= 9') }],
      smoke,
    );
    const [trait] = traits.values();
    const looks = genotypeLooks(smoke, traits).find(
      ({ locus, genotype }) => locus === 'pl' && genotype === 2,
    );
    expect(looks?.shows).toEqual([{ trait: 'x', young: false, grown: true, sex: 'm' }]);
    expect(traitClass(trait, { genotypes: { pl: 2 }, sex: 'm', ageDays: 9 })).toBe(0);
  });
});
