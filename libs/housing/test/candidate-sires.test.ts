import { describe, expect, it } from '@jest/globals';
import { dayNumber, FaultsError, parsePartialDate } from '@scutewright/basics';
import { candidateSires, maleConflict, type SireTimelineInput } from '@scutewright/housing';
import fc from 'fast-check';
import { slowCandidates, slowConflict } from './slow-access.js';

const date = fc
  .record({
    year: fc.integer({ min: 2019, max: 2024 }),
    month: fc.integer({ min: 1, max: 12 }),
    day: fc.integer({ min: 1, max: 28 }),
    precision: fc.constantFrom(4, 7, 10, 10, 10),
  })
  .map(({ year, month, day, precision }) =>
    `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`.slice(0, precision),
  );
/** Two dates in order; texts of equal or different precision sort by their first day. */
const range = fc
  .tuple(fc.option(date, { freq: 4 }), fc.option(date, { freq: 3 }))
  .map(([a, b]) => (a !== null && b !== null && b < a ? ([b, a] as const) : ([a, b] as const)));
const pen = fc.constantFrom('P', 'Q');
const animals = ['D', 'A', 'B', 'C'];

const timeline: fc.Arbitrary<SireTimelineInput> = fc.record({
  window_years: fc.integer({ min: 0, max: 4 }),
  dam: fc.constant('D'),
  laid: fc.constantFrom('2024-05-10', '2023-01-01', '2024-02-28'),
  animals: fc.tuple(
    ...animals.map((id) =>
      fc.record({
        id: fc.constant(id),
        sex:
          id === 'D'
            ? fc.constant('f' as const)
            : fc.constantFrom('m' as const, null, 'f' as const),
        mature_from: fc.oneof(
          fc.constant('2000'),
          fc.constant(null),
          date,
          fc.tuple(date, date).map(([a, b]): [string, string] => (b < a ? [b, a] : [a, b])),
        ),
      }),
    ),
  ),
  stays: fc.array(
    fc
      .tuple(fc.constantFrom(...animals), pen, range)
      .map(([animal, where, [from, to]]) => ({ animal, pen: where, from, to })),
    { minLength: 2, maxLength: 8 },
  ),
  contacts: fc.array(
    range.map(([from, to]) => ({ pens: ['P', 'Q'] as [string, string], from, to })),
    { maxLength: 1 },
  ),
  strangers: fc.array(
    fc.tuple(fc.option(pen), range).map(([where, [from, to]]) => ({ pen: where, from, to })),
    { maxLength: 1 },
  ),
});

describe('candidateSires', () => {
  it('agrees with asking every day of the window', () => {
    fc.assert(
      fc.property(timeline, (input) => {
        const { access, unrecordedDays, ...found } = candidateSires(input);
        expect(found).toEqual(slowCandidates(input));
        expect(access.map(({ id }) => id)).toEqual(found.possible);
        if (unrecordedDays.length > 0) expect(found.unknownMale).toBe(true);
      }),
      { numRuns: 120, seed: 3 },
    );
  });

  it('takes the widest window where the laying is only known to the year', () => {
    const base = {
      ...{
        window_years: 1,
        dam: 'D',
        animals: [
          { id: 'D', sex: 'f' as const },
          { id: 'A', sex: 'm' as const },
        ],
      },
      stays: [
        { animal: 'D', pen: 'P', from: null, to: null },
        { animal: 'A', pen: 'P', from: '2019-03-01', to: '2019-03-10' },
      ],
    };
    expect(candidateSires({ ...base, laid: '2020' }).possible).toEqual(['A']);
    expect(candidateSires({ ...base, laid: '2020-12-31' }).possible).toEqual([]);
  });

  it('answers many timelines at once, and names every fault', () => {
    const one: SireTimelineInput = {
      ...{ window_years: 4, dam: 'D', laid: '2024-05-10', animals: [{ id: 'D', sex: 'f' }] },
      stays: [],
    };
    expect(candidateSires({ timelines: [one, one] }).timelines).toHaveLength(2);
    const bad: SireTimelineInput = {
      ...one,
      laid: '2024-02-30',
      window_years: -1,
      stays: [{ animal: 'X', pen: 'P', from: '2024-06-01', to: '2023-01-01' }],
    };
    let codes: string[] = [];
    try {
      candidateSires(bad);
    } catch (error) {
      codes = (error as FaultsError).faults.map((fault) => fault.code);
    }
    expect(codes).toEqual(['BAD_STAY', 'BAD_DATE', 'UNKNOWN_ANIMAL', 'BAD_WINDOW']);
  });
});

describe('maleConflict', () => {
  it('agrees with asking every day', () => {
    fc.assert(
      fc.property(timeline, (input) => {
        const [, a, b] = input.animals;
        const horizon = '2025-06-01';
        const start = dayNumber(2018, 1, 1);
        const found = maleConflict({ males: [a, b], stays: input.stays, horizon });
        const slow = slowConflict(input, [a.id, b.id], start, dayNumber(2025, 6, 1));
        // Nothing is dated before 2018, so a conflict that stands then has stood from the beginning.
        const since = (text: string | null): number | null =>
          text === null ? null : Math.max(start, parsePartialDate(text)?.earliest ?? start);
        expect(since(found.possibleFrom)).toBe(slow.possibleFrom);
        expect(since(found.certainFrom)).toBe(slow.certainFrom);
        expect(found.overOn && parsePartialDate(found.overOn)?.earliest).toBe(slow.overOn);
      }),
      { numRuns: 80, seed: 9 },
    );
  });
});
