import { describe, expect, it } from '@jest/globals';
import { Fraction } from '@scutewright/basics';
import {
  type LabelBasis,
  outOf,
  saidOdds,
  simplestFrequency,
  traitLabel,
  wholePerCentOf,
} from '@scutewright/genetics';
import fc from 'fast-check';

const label = (het: string, basis: LabelBasis = {}, visual = '0') =>
  traitLabel({ visual: Fraction.parse(visual), het: Fraction.parse(het) }, basis);

// Labels are trade usage: common practice, no source.
describe('traitLabel', () => {
  it('says visual, proven and 100 % het only when certain', () => {
    expect(label('0', {}, '1').text).toBe('visual');
    expect(label('1', { proven: true }).text).toBe('proven het');
    expect(label('1').text).toBe('100 % het');
    expect(label('9999/10000').text).toBe('possible het: 9,999 in 10,000');
    expect(label('0').text).toBe('not carrying');
    expect(label('1/2', {}, '1/2').text).toBe('carries it, one copy or two');
  });

  it('names a cross by 66 % or 50 % only for its young, with nothing else known', () => {
    expect(label('2/3', { cross: 'het x het' }).text).toBe('66 % het');
    expect(label('1/2', { cross: 'het x normal' }).text).toBe('50 % het');
    expect(label('2/3').text).toBe('possible het: 2 in 3');
    expect(label('1/2', { cross: 'het x het' }).text).toBe('possible het: 1 in 2');
    expect(label('2/3', { cross: 'het x het', proven: true }).kind).toBe('possible het');
    expect(label('1/3', { cross: 'het x het' }).kind).toBe('possible het');
  });

  it("keeps a seller's word a seller's word", () => {
    expect(label('1', { sellerSaid: true }).text).toBe('seller said: 1 in 1');
    expect(label('1/5', { unrecorded: true }).text).toBe('not known');
  });

  it('never claims more than the odds', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000 }), fc.boolean(), (n, isCross) => {
        const basis: LabelBasis = { cross: isCross ? 'het x het' : null };
        const found = label(`${n}/10000`, basis);
        expect(found.kind === '100 % het').toBe(n === 10_000);
        expect(found.kind === 'not carrying').toBe(n === 0);
        expect(found.kind).not.toBe('66 % het');
        expect(found.wholePerCent).toBe(Math.floor(n / 100));
        if (n > 0 && n < 10_000) expect(found.text).toMatch(/^possible het: /);
      }),
    );
  });
});

describe('wholePerCentOf', () => {
  it('cuts and never rounds up', () => {
    const cut = ['2/3', '659/1000', '0.29', '0.9999', '1/200', '1'].map((text) =>
      wholePerCentOf(Fraction.parse(text)),
    );
    expect(cut).toEqual([66, 65, 29, 99, 0, 100]);
  });
});

describe('natural frequencies', () => {
  it('says simple chances exactly and others about', () => {
    const said = ['1/4', '2/3', '0.41', '0.9375', '7/17', '0.0004', '0.9996'].map((text) =>
      saidOdds(simplestFrequency(Fraction.parse(text))),
    );
    expect(said).toEqual([
      ...['1 in 4', '2 in 3', 'about 2 in 5', '15 in 16', '7 in 17'],
      ...['4 in 10,000', '9,996 in 10,000'],
    ]);
    expect(saidOdds(outOf(Fraction.parse('1/4'), 20))).toBe('5 in 20');
    expect(saidOdds(outOf(Fraction.parse('1/1000'), 20))).toBe('less than 1 in 20');
  });

  it('stays close to the chance and is all or none only for 1 and 0', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (n) => {
        const chance = Fraction.of(n, 100_000);
        for (const said of [simplestFrequency(chance), outOf(chance, 20)]) {
          expect(Math.abs(said.count / said.of - n / 100_000)).toBeLessThanOrEqual(0.0501);
          expect(said.count === said.of).toBe(n === 100_000);
          if (!said.about) expect(Fraction.of(said.count, said.of).equals(chance)).toBe(true);
        }
        const simplest = simplestFrequency(chance);
        expect(Math.abs(simplest.count / simplest.of - n / 100_000)).toBeLessThan(0.0251);
        if (n > 0) expect(simplest.count).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });
});
