import { describe, expect, it } from '@jest/globals';
import { dayText } from '@scutewright/basics';
import { DEFAULT_FATHER_RULE, type FathersInput, possibleFathers } from '@scutewright/housing';
import fc from 'fast-check';

const RULE = DEFAULT_FATHER_RULE;
const adult = ['1990', '1990'] as const;
const base = (more: Partial<FathersInput>): FathersInput => ({
  rule: RULE,
  clutches: [{ id: 'c', laid: '2020-06-01', dams: [{ id: 'D', probability: 1 }] }],
  animals: [
    { id: 'D', sex: 'f', mature_from: adult },
    { id: 'A', sex: 'm', mature_from: adult },
    { id: 'B', sex: 'm', mature_from: adult },
    { id: 'F', sex: 'f', mature_from: adult },
  ],
  stays: [{ animal: 'D', pen: 'p', from: '2000', to: null }],
  ...more,
});
const stay = (animal: string, from: string | null, to: string | null, pen = 'p') => ({
  animal,
  pen,
  from,
  to,
});

/** Day by day, as the rule is told: the slow twin. */
function slowly(input: FathersInput): Map<string, number> {
  const end = Date.UTC(2020, 5, 1) / 86_400_000;
  const day = (text: string | null, open: number) =>
    text === null ? open : Date.parse(`${text.length === 4 ? `${text}-01-01` : text}`) / 86_400_000;
  const weights = new Map<string, number>();
  for (let d = end - 4 * 365.25 - 2; d < end; d += 0.25) {
    if (d < Date.UTC(2016, 5, 1) / 86_400_000) continue;
    const recency = 0.5 ** ((end - d) / (365.25 * input.rule.recencyHalfYears));
    for (const { animal, from, to } of input.stays) {
      if (animal === 'D' || d < day(from, -1e9) || d >= day(to, 1e9)) continue;
      weights.set(animal, (weights.get(animal) ?? 0) + recency / 4);
    }
  }
  const total = [...weights.values()].reduce((a, b) => a + b, 0);
  return new Map(
    [...weights].map(([id, weight]) => [id, ((1 - input.rule.unrecordedShare) * weight) / total]),
  );
}

describe('possibleFathers', () => {
  it('gives all but the unrecorded share to the only male with her', () => {
    const [found] = possibleFathers(
      base({ stays: [stay('D', '2000', null), stay('A', '2010', null)] }),
    );
    expect(found.fathers).toHaveLength(1);
    expect(found.fathers[0].probability).toBeCloseTo(0.95, 12);
    expect(found.unrecorded).toBeCloseTo(0.05, 12);
  });

  it('counts a day a year earlier half as much', () => {
    // A the last 100 days, B the same days a year before: 2 to 1.
    const [found] = possibleFathers(
      base({
        stays: [
          stay('D', '2000', null),
          stay('A', '2020-02-22', '2020-06-01'),
          stay('B', '2019-02-22', '2019-06-02'),
        ],
      }),
    );
    const [a, b] = found.fathers;
    expect([a.id, b.id]).toEqual(['A', 'B']);
    expect(a.probability / b.probability).toBeCloseTo(2, 1);
  });

  it('lets a mating that was seen weigh more than a stay alone', () => {
    const stays = [
      stay('D', '2000', null),
      stay('A', '2020-05-01', null),
      stay('B', '2020-05-01', null),
    ];
    const day = Date.UTC(2020, 4, 20) / 86_400_000;
    const [found] = possibleFathers(base({ stays, matings: [{ male: 'B', female: 'D', day }] }));
    expect(found.fathers[0]).toMatchObject({ id: 'B', matingsSeen: 1 });
    expect(found.fathers[0].probability).toBeGreaterThan(2 * found.fathers[1].probability);
  });

  it('leaves it to a male nobody recorded where nothing says where she was', () => {
    expect(possibleFathers(base({ stays: [] }))[0]).toMatchObject({ fathers: [], unrecorded: 1 });
    const [found] = possibleFathers(
      base({ stays: [stay('D', '2020-01-01', null), stay('A', '2020-01-01', null)] }),
    );
    expect(found.unrecorded).toBeGreaterThan(0.3);
    expect(found.fathers[0].id).toBe('A');
  });

  it('knows no father among females and males out of reach or past the storage time', () => {
    const stays = [
      stay('D', '2000', null),
      stay('F', '2000', null),
      stay('A', '2000', '2016-05-31'),
      stay('B', '2010', null, 'q'),
    ];
    expect(possibleFathers(base({ stays }))[0]).toMatchObject({ fathers: [], unrecorded: 1 });
    const contacts = [{ pens: ['p', 'q'] as const, from: '2020-04-01', to: '2020-04-03' }];
    const [found] = possibleFathers(
      base({ stays, contacts: contacts.map((c) => ({ ...c, pens: [...c.pens] })) }),
    );
    expect(found.fathers.map(({ id }) => id)).toEqual(['B']);
  });

  it('sums to 1 and agrees with counting day by day', () => {
    const someDay = fc.integer({ min: 16_960, max: 18_400 }).map(dayText);
    const stays = fc.array(fc.tuple(fc.constantFrom('A', 'B'), someDay, someDay), {
      minLength: 1,
      maxLength: 4,
    });
    fc.assert(
      fc.property(
        stays,
        fc.double({ min: 0.3, max: 5, noNaN: true }),
        (drawn, recencyHalfYears) => {
          const input = base({
            rule: { ...RULE, recencyHalfYears },
            stays: [
              stay('D', '2000', null),
              // One stay a male: two in one pen at once would be counted once by the rule and twice by the twin.
              ...[...new Map(drawn.map((each) => [each[0], each])).values()].map(
                ([animal, ...days]) => {
                  const [from, to] = days.sort();
                  return stay(animal, from, to);
                },
              ),
            ],
          });
          const [found] = possibleFathers(input);
          const sum = found.fathers.reduce(
            (total, { probability }) => total + probability,
            found.unrecorded,
          );
          expect(sum).toBeCloseTo(1, 9);
          const expected = slowly(input);
          for (const { id, probability, certainDays } of found.fathers) {
            if (certainDays > 20) expect(probability).toBeCloseTo(expected.get(id) ?? 0, 2);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
