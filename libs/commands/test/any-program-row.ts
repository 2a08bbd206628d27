import { parsePartialDate } from '@scutewright/basics';
import type { DeclaredGenotype, NamedParent, ProgramRow } from '@scutewright/commands';
import fc from 'fast-check';

// Arbitrary animals as an export may meet them: any script, quotes, separators, line ends, formula-looking text.

const text = (most: number, forbidden: RegExp): fc.Arbitrary<string> =>
  fc
    .oneof(
      fc.string({ unit: 'grapheme', maxLength: most }),
      fc.string({ unit: fc.constantFrom(...'aB1=+-@\'",;|: \t\n\r#.~/'), maxLength: most }),
    )
    .map((raw) =>
      raw
        .replace(forbidden, '')
        .replace(/[\uFFFD\0]/g, '')
        .trim(),
    );

const orNull = <Value>(arbitrary: fc.Arbitrary<Value>): fc.Arbitrary<Value | null> =>
  fc.option(arbitrary, { nil: null, freq: 2 });
const filled = (most: number, forbidden: RegExp): fc.Arbitrary<string> =>
  text(most, forbidden).filter((value) => value !== '');

const code = filled(12, /[|:;,\n\r\t]/g);
const plain = orNull(filled(20, /(?!)/g));

const parents: fc.Arbitrary<NamedParent[]> = fc
  .record({
    codes: fc.uniqueArray(code, { maxLength: 4 }),
    weights: fc.array(fc.integer({ min: 1, max: 99 }), { minLength: 4, maxLength: 4 }),
    rest: fc.integer({ min: 1, max: 99 }),
    isOpen: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
  })
  .map(({ codes, weights, rest, isOpen }) => {
    const total = weights.reduce((sum, weight) => sum + weight, rest);
    return codes.map((each, i) => ({
      code: each,
      probability: isOpen[i] ? null : weights[i] / total,
    }));
  });

const date = fc
  .record({
    day: fc.date({
      min: new Date('1800-01-01'),
      max: new Date('2199-12-31'),
      noInvalidDate: true,
    }),
    length: fc.constantFrom(4, 7, 10),
    about: fc.constantFrom('', '~'),
  })
  .map(({ day, length, about }) => parsePartialDate(day.toISOString().slice(0, length) + about));

const looks: fc.Arbitrary<Pick<ProgramRow, 'traits' | 'absent'>> = fc
  .uniqueArray(
    filled(10, /[;\n\r\t]/g).filter((name) => !/^(?:none$|not )/i.test(name)),
    { maxLength: 4 },
  )
  .chain((names) =>
    fc.record({ seen: fc.nat({ max: names.length }), isLookedAt: fc.boolean() }).map((look) => ({
      traits: look.isLookedAt ? names.slice(0, look.seen) : null,
      absent: look.isLookedAt ? names.slice(look.seen) : [],
    })),
  );

const genotype: fc.Arbitrary<DeclaredGenotype[]> = fc.uniqueArray(
  fc.record({
    locus: filled(6, /[=/|;\n\r\t]/g),
    alleles: fc.array(filled(4, /[=/|;\s]/g), { minLength: 1, maxLength: 2 }),
  }),
  { maxLength: 3, selector: (declared) => declared.locus },
);

const measure = orNull(fc.integer({ min: 1, max: 9_999_999_999 }).map((n) => n / 1000));

/** Rows that only have to be well formed, each with a code of its own. */
export const anyProgram: fc.Arbitrary<ProgramRow[]> = fc.uniqueArray(
  fc
    .record({
      code,
      name: plain,
      species: plain,
      sex: fc.constantFrom('m' as const, 'f' as const, null),
      hatched: orNull(date),
      sires: parents,
      dams: parents,
      clutch: plain,
      looks,
      genotype,
      pen: plain,
      sclMm: measure,
      massG: measure,
      notes: plain,
    })
    .map(({ looks: look, ...row }) => ({ ...row, ...look })),
  { selector: (row) => row.code, maxLength: 8 },
);
