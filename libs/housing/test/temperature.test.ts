import { describe, expect, it } from '@jest/globals';
import { dayNumber, FaultsError, parsePartialDate } from '@scutewright/basics';
import {
  daysAt,
  fitRateLine,
  fitSexCurve,
  hatchWindow,
  SPECIES_TEMPERATURES,
  shareOfMales,
  transitionalRange,
  wideHatchWindow,
} from '@scutewright/housing';
import fc from 'fast-check';

describe('fitSexCurve', () => {
  it('finds no better point nearby: the likelihood is at its maximum', () => {
    const group = fc.record({
      males: fc.integer({ min: 0, max: 12 }),
      females: fc.integer({ min: 0, max: 12 }),
    });
    fc.assert(
      fc.property(fc.array(group, { minLength: 4, maxLength: 6 }), (groups) => {
        const counts = groups.map((each, i) => ({ ...each, celsius: 28 + i }));
        let fit: ReturnType<typeof fitSexCurve>;
        try {
          fit = fitSexCurve(counts);
        } catch (error) {
          expect(error).toBeInstanceOf(FaultsError);
          return;
        }
        if (fit.kind !== 'fitted') return;
        const { curve, logLikelihood, pivotalRange } = fit;
        const at = (pivotal: number, scale: number): number =>
          counts.reduce((sum, { celsius, males, females }) => {
            const share = shareOfMales({ pivotal, scale }, celsius);
            return (
              sum +
              (males > 0 ? males * Math.log(share) : 0) +
              (females > 0 ? females * Math.log(1 - share) : 0)
            );
          }, 0);
        expect(at(curve.pivotal, curve.scale)).toBeCloseTo(logLikelihood, 6);
        for (const [p, s] of [
          [1, 1.01],
          [-1, 1.01],
          [1, 0.99],
          [-1, 0.99],
          [0, 1.01],
          [0, 0.99],
        ]) {
          const near = at(curve.pivotal + 0.01 * p * curve.scale, curve.scale * s);
          expect(near).toBeLessThanOrEqual(logLikelihood + 1e-9);
        }
        const [low, high] = pivotalRange;
        expect(low ?? -Infinity).toBeLessThanOrEqual(curve.pivotal);
        expect(high ?? Infinity).toBeGreaterThanOrEqual(curve.pivotal);
      }),
      { numRuns: 150, seed: 29 },
    );
  });

  it('does not invent a slope where the sexes do not overlap', () => {
    const counts = [
      { celsius: 28, males: 9, females: 0 },
      { celsius: 30, males: 7, females: 0 },
      { celsius: 31, males: 0, females: 8 },
    ];
    expect(fitSexCurve(counts)).toEqual({ kind: 'between', pivotalRange: [30, 31] });
    const turned = counts.map(({ celsius, males, females }) => ({
      celsius,
      males: females,
      females: males,
    }));
    expect(fitSexCurve(turned)).toEqual({ kind: 'other pattern' });
    expect(() => fitSexCurve(counts.slice(0, 2))).toThrow(/no females/);
  });

  it('the shipped curve of C. carbonarius has the published 5-95 % range (Gaviria-Hernandez et al. 2021: 24.34-27.77)', () => {
    const [low, high] = transitionalRange(
      SPECIES_TEMPERATURES.get('Chelonoidis carbonarius')!.sex!,
    );
    expect(Math.abs(low - 24.34)).toBeLessThan(0.01);
    expect(Math.abs(high - 27.77)).toBeLessThan(0.02);
  });
});

describe('incubation', () => {
  it('gets back a line from its own points', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 2000 }),
        fc.integer({ min: 10, max: 20 }),
        (K, T0) => {
          const records = [24, 26, 29, 31].map((celsius) => ({
            celsius,
            days: K / (celsius - T0),
          }));
          const line = fitRateLine(records);
          expect(line.K).toBeCloseTo(K, 5);
          expect(line.T0).toBeCloseTo(T0, 7);
          expect(line.largestMiss).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it('gives a window of days, and none outside the temperatures measured', () => {
    const line = fitRateLine(SPECIES_TEMPERATURES.get('Centrochelys sulcata')!.days);
    const laid = parsePartialDate('2024-05-10')!;
    const window = hatchWindow(laid, [30, 31], line)!;
    expect(window.earliest).toBeLessThan(laid.earliest + daysAt(line, 31));
    expect(window.latest).toBeGreaterThan(laid.earliest + daysAt(line, 30));
    // 30.5 C took 89 days (Ligon, Bidwell & Lovern 2009).
    expect(window.earliest).toBeLessThanOrEqual(laid.earliest + 89);
    expect(window.latest).toBeGreaterThanOrEqual(laid.earliest + 89);
    expect(hatchWindow(laid, [28, 31], line)).toBeNull();
  });

  it('gives only the range ever recorded where embryos pause (A. radiata, 90 to 342 days)', () => {
    const { days, dayRange } = SPECIES_TEMPERATURES.get('Astrochelys radiata')!;
    expect(days).toEqual([]);
    const laid = parsePartialDate('2024-03')!;
    expect(wideHatchWindow(laid, dayRange!)).toEqual({
      earliest: dayNumber(2024, 3, 1) + 90,
      latest: dayNumber(2024, 3, 31) + 342,
    });
  });

  it('refuses records that say nothing', () => {
    expect(() => fitRateLine([{ celsius: 30, days: 90 }])).toThrow(FaultsError);
    const upward = [
      { celsius: 28, days: 60 },
      { celsius: 30, days: 70 },
    ];
    expect(() => fitRateLine(upward)).toThrow(/warmth does not shorten/);
  });
});
