import { describe, expect, it } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { chanceWords, inbreedingWords } from '../src/lib/chance-words.js';
import { newCommandId } from '../src/lib/command-id.js';
import { csvText } from '../src/lib/csv-text.js';
import { ageWords, partialDateWords } from '../src/lib/date-words.js';
import { typedDate, typedDateText } from '../src/lib/typed-date.js';

describe('chanceWords', () => {
  it.each([
    [1, 'certain'],
    [0, 'ruled out'],
    [0.5, '50 in 100'],
    [0.9999, 'more than 99 in 100'],
    [0.0001, 'less than 1 in 100'],
    [0.99, '99 in 100'],
    [0.01, '1 in 100'],
  ])('%d', (probability, words) => expect(chanceWords(probability)).toBe(words));

  it('never calls certain or ruled out what is not', () => {
    for (let k = 1; k < 10_000; k++) {
      expect(chanceWords(k / 10_000)).not.toMatch(/certain|ruled out|^0 |^100 /);
    }
  });
});

describe('inbreedingWords', () => {
  it('tells nothing from next to nothing', () => {
    expect(inbreedingWords(0)).toBe('0');
    expect(inbreedingWords(0.0004)).toBe('under 0.001');
    // Young of full sibs have F = 1/4, of half sibs 1/8 (Wright 1922, doi 10.1086/279872; from memory).
    expect(inbreedingWords(1 / 4)).toBe('0.25');
    expect(inbreedingWords(1 / 8)).toBe('0.125');
  });
});

describe('dates', () => {
  // Forms of EDTF levels 0 and 1 (ISO 8601-2:2019): year, month, day, `~` for approximate.
  it.each([
    ['1988', '1988'],
    ['2011-06', 'June 2011'],
    ['2011-06-03', '3 June 2011'],
    ['2011-06~', 'about June 2011'],
  ])('%s', (text, words) => expect(partialDateWords({ text })).toBe(words));

  const today = new Date(2026, 10, 25);
  it.each([
    ['2006-09-15', '2006-09-15', '20 years'],
    ['2006-12-15', '2006-12-15', '19 years'],
    ['1988-01-01', '1988-12-31', 'about 38 years'],
    ['2026-10-25', '2026-10-25', '1 month'],
    ['2026-10-26', '2026-10-26', '0 months'],
    ['2025-09-01', '2025-09-30', 'about 14 months'],
    ['2027-01-01', '2027-01-01', null],
  ])('age of one hatched %s to %s', (earliest, latest, words) => {
    expect(ageWords({ earliest, latest }, today)).toBe(words);
  });

  it('reads typed parts back as they were', () => {
    for (const text of ['1988', '2011-06', '2011-06-03', '2011-06-03~', '']) {
      expect(typedDateText(typedDate(text || null))).toBe(text);
    }
    expect(typedDateText({ year: '2011', month: '6', day: '', about: false })).toBe('2011-06');
    expect(typedDateText({ year: '', month: '', day: '', about: true })).toBe('');
  });
});

describe('newCommandId', () => {
  // Layout of version 4, variant 10: RFC 9562 section 5.4.
  const layout = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

  it('has the layout of a random UUID, also where the browser offers none', () => {
    expect(newCommandId()).toMatch(layout);
    const whole = globalThis.crypto;
    const overHttp = { getRandomValues: whole.getRandomValues.bind(whole) };
    Object.defineProperty(globalThis, 'crypto', { value: overHttp, configurable: true });
    try {
      expect(newCommandId()).toMatch(layout);
      expect(newCommandId()).not.toBe(newCommandId());
    } finally {
      Object.defineProperty(globalThis, 'crypto', { value: whole, configurable: true });
    }
  });
});

describe('csvText', () => {
  // RFC 4180, read back by an independent reader (package csv-parse).
  it('is read back as it was, and no cell as a formula', () => {
    const text = csvText(
      ['who', 'share'],
      [
        ['SG-1, "the old one"', 0.25],
        ['two\nlines', null],
        ['=1+1', -0.5],
      ],
    );
    expect(text.split('\r\n')).toHaveLength(5);
    expect(parse(text)).toEqual([
      ['who', 'share'],
      ['SG-1, "the old one"', '0.25'],
      ['two\nlines', ''],
      ["'=1+1", '-0.5'],
    ]);
  });
});
