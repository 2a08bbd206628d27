import { describe, expect, it } from '@jest/globals';
import {
  amongMates,
  forecastSize,
  type GrowthRecord,
  growthRecord,
  maturityRange,
} from '@scutewright/housing';
import fc from 'fast-check';

/** Invented: 40 mm at first, then 20 mm a year, measured twice a year. */
const steady = Array.from({ length: 9 }, (_, i) => ({
  day: i * 182,
  mm: 40 + (i * 20 * 182) / 365.25,
}));

function recordOf(...args: Parameters<typeof growthRecord>): GrowthRecord {
  const record = growthRecord(...args);
  if ('reason' in record) throw new Error(record.detail);
  return record;
}

describe('growthRecord and forecastSize', () => {
  it('carries a steady growth on, within little more than the reading error', () => {
    const record = recordOf(steady);
    expect(record.ratePerYear).toBeCloseTo(20, 6);
    const next = forecastSize(record, record.last.day + 365);
    if ('reason' in next) throw new Error(next.detail);
    expect(next.middle).toBeCloseTo(record.last.mm + (20 * 365) / 365.25, 6);
    expect(next.high - next.low).toBeLessThan(4);
  });

  it('says too few where there are too few, and does not look further ahead than back', () => {
    const few = growthRecord(steady.slice(0, 2));
    expect('reason' in few && few.reason).toBe('too few measurements');
    const sameWeek = [0, 1, 2, 3].map((day) => ({ day, mm: 50 + day }));
    expect('reason' in growthRecord(sameWeek)).toBe(true);
    const record = recordOf(steady);
    const far = forecastSize(record, record.last.day + record.spanDays + 1);
    expect('reason' in far && far.reason).toBe('too far ahead');
  });

  it('does not care for the order of measurements, widens with time and never shrinks a shell', () => {
    const sizes = fc.array(fc.integer({ min: 0, max: 25 }), { minLength: 4, maxLength: 10 });
    fc.assert(
      fc.property(sizes, (steps) => {
        let mm = 40;
        const own = steps.map((step, i) => {
          mm += step;
          return { day: i * 120, mm };
        });
        const record = recordOf(own);
        expect(recordOf([...own].reverse())).toEqual(record);
        let before = 0;
        for (const ahead of [30, 120, 240, 360]) {
          const next = forecastSize(record, record.last.day + ahead);
          if ('reason' in next) throw new Error(next.detail);
          expect(next.middle).toBeGreaterThanOrEqual(record.last.mm);
          expect(next.low).toBeGreaterThan(record.last.mm - 2);
          expect(next.high - next.middle).toBeGreaterThanOrEqual(before);
          before = next.high - next.middle;
        }
      }),
    );
  });

  it('clutch mates whose rates jump make the interval wider', () => {
    const jumpy = Array.from({ length: 9 }, (_, i) => ({
      day: i * 182,
      mm: 40 + i * 10 + (i % 2) * 8,
    }));
    expect(recordOf(steady, [jumpy]).rateSpread).toBeGreaterThan(recordOf(steady).rateSpread);
  });
});

describe('maturityRange', () => {
  it('is a range of days; open where the record does not reach', () => {
    const record = recordOf(steady);
    const range = maturityRange(record, [140, 150]);
    // 140 mm at 5 years, 150 at 5.5, by 20 mm a year from 40.
    expect(Math.abs(range.possibleFrom! - 5 * 365.25)).toBeLessThan(60);
    expect(Math.abs(range.certainFrom! - 5.5 * 365.25)).toBeLessThan(60);
    expect(range.possibleFrom!).toBeLessThan(range.certainFrom!);
    expect(maturityRange(record, [400, 450])).toEqual({
      ...{ possibleFrom: null, certainFrom: null },
      knownUntil: record.last.day + record.spanDays,
    });
    expect(maturityRange(record, [60, 100]).certainFrom).toBe(record.last.day);
  });
});

describe('amongMates', () => {
  it('compares on the same day, by what lies between two measurements', () => {
    const mate = (mm: number) => [
      { day: 0, mm: mm - 10 },
      { day: 200, mm: mm + 10 },
    ];
    const found = amongMates({ day: 100, mm: 60 }, [
      mate(50),
      mate(55),
      mate(80),
      [{ day: 0, mm: 1 }],
    ]);
    expect(found).toEqual({ mates: 3, smaller: 2, ratioToMedian: 60 / 55 });
    expect(amongMates({ day: 100, mm: 60 }, []).ratioToMedian).toBeNull();
  });
});
