import { Fraction } from '@scutewright/basics';
import {
  clashingRecords,
  type GenotypePosteriors,
  genotypePosteriors,
  type ProgramInput,
  readProgram,
  whyGenotype,
} from '@scutewright/inference';
import { UnreadableShape } from './case-file.js';
import { type Comparison, list, onlyKeys, record, text } from './comparison.js';

export type Json = Readonly<Record<string, unknown>>;

const PROGRAM_KEYS = [
  'loci',
  'linkage',
  'traits',
  'animals',
  'clutches',
  'finds',
  'evidence',
  'allelism',
];
/** Expected blocks that hold figures of the input as it is. */
export const PLAIN_KEYS = [
  'possible',
  'evidence_probability',
  'genotypes',
  'sires',
  'clutch_sires',
  'without_each_record',
  'minimal_conflicts',
];

export function programInput(what: string, value: unknown): ProgramInput {
  const input = record(what, value);
  onlyKeys(what, input, PROGRAM_KEYS);
  return input as unknown as ProgramInput;
}

/** A figure within 1e-9 of itself or 1e-12, whichever is more. An absent `expected` stands for 0. */
export function near(seen: Comparison, what: string, expected: unknown, actual: number): void {
  const wanted = expected ?? 0;
  const size =
    typeof wanted === 'number'
      ? wanted
      : Fraction.parse(
          typeof wanted === 'string' ? wanted : text(what, record(what, wanted).exact),
        ).toNumber();
  seen.near(what, wanted, actual, Math.max(1e-12, 1e-9 * Math.abs(size)));
}

/** Chances by name; a name that one side lacks is 0 there. */
export function odds(seen: Comparison, what: string, expected: unknown, actual: Json): void {
  const wanted = record(what, expected);
  for (const name of new Set([...Object.keys(wanted), ...Object.keys(actual)])) {
    near(seen, `${what}, ${name}`, wanted[name], Number(actual[name] ?? 0));
  }
}

/** The figures that every inference file may hold, of one input. */
export function checkBlock(
  where: string,
  input: ProgramInput,
  expected: Json,
  seen: Comparison,
): void {
  onlyKeys('expected', expected, PLAIN_KEYS);
  if (Object.keys(expected).length === 0) return;
  const found = genotypePosteriors(input);
  const at = (what: string): string => (where ? `${where}: ${what}` : what);
  if ('possible' in expected) seen.same(at('possible'), expected.possible, found.possible);
  if ('evidence_probability' in expected) {
    near(
      seen,
      at('evidence_probability'),
      expected.evidence_probability,
      found.evidenceProbability,
    );
  }
  if ('genotypes' in expected) checkGenotypes(at('genotypes'), expected.genotypes, found, seen);
  for (const [animal, value] of entries('sires', expected.sires)) {
    odds(seen, at(`sires of ${animal}`), value, found.sires[animal] ?? {});
  }
  for (const [clutch, value] of entries('clutch_sires', expected.clutch_sires)) {
    const combinations = (found.clutchSires[clutch] ?? []).map(
      ({ sires, probability }) => [sires.join(','), probability] as const,
    );
    odds(seen, at(`sires of clutch ${clutch}`), value, Object.fromEntries(combinations));
  }
  for (const [id, value] of entries('without_each_record', expected.without_each_record)) {
    const evidence = (input.evidence ?? []).filter((entry) => entry.id !== id);
    if (evidence.length + 1 !== input.evidence?.length) {
      throw new UnreadableShape(`there is no record '${id}'`);
    }
    checkGenotypes(at(`without ${id}`), value, genotypePosteriors({ ...input, evidence }), seen);
    checkWhy(at(`why, without ${id}`), input, id, value, seen);
  }
  if ('minimal_conflicts' in expected) {
    const named = readProgram(input);
    const sets = clashingRecords(named.program).sets.map((set) => set.map((r) => named.records[r]));
    seen.same(at('minimal_conflicts'), sorted(expected.minimal_conflicts), sorted(sets));
  }
}

/** The same figures once more by the short way that weighs all records at once. */
function checkWhy(
  what: string,
  input: ProgramInput,
  id: string,
  expected: unknown,
  seen: Comparison,
): void {
  const { program, animals, records } = readProgram(input);
  for (const [animal, value] of Object.entries(record(what, expected))) {
    for (const [l, { id: locus, genotypes }] of program.loci.entries()) {
      const given = record(what, value);
      const chances = locus in given ? given[locus] : program.loci.length === 1 ? given : null;
      if (chances === null) continue;
      const why = whyGenotype(program, animals.indexOf(animal), l);
      const without = why.records.find((entry) => records[entry.record] === id)?.without;
      if (!without) throw new UnreadableShape(`there is no record '${id}'`);
      const found = genotypes.map(({ text: name }, g) => [name, without[g]] as const);
      odds(seen, `${what}, ${animal} at ${locus}`, chances, Object.fromEntries(found));
    }
  }
}

export function entries(what: string, value: unknown): [string, unknown][] {
  return value === undefined ? [] : Object.entries(record(what, value));
}

/** Sets in one order, their members in one order. */
function sorted(sets: unknown): string[] {
  return list('minimal_conflicts', sets)
    .map((set) => list('a conflict', set).map(String).sort().join())
    .sort();
}

/** By animal and locus, or by animal alone where there is one locus. */
function checkGenotypes(
  what: string,
  expected: unknown,
  found: GenotypePosteriors,
  seen: Comparison,
): void {
  for (const [animal, value] of Object.entries(record(what, expected))) {
    const own = found.genotypes[animal];
    if (!own) throw new UnreadableShape(`${what} speaks of '${animal}', which is not listed`);
    const loci = Object.keys(own);
    const given = record(what, value);
    if (Object.keys(given).every((key) => loci.includes(key))) {
      for (const [locus, chances] of Object.entries(given)) {
        odds(seen, `${what} of ${animal} at ${locus}`, chances, own[locus]);
      }
    } else if (loci.length === 1) {
      odds(seen, `${what} of ${animal}`, given, own[loci[0]]);
    } else {
      throw new UnreadableShape(`${what} of '${animal}' does not say at which locus`);
    }
  }
}

export function onlyLocus(
  genotypes: GenotypePosteriors['genotypes'][string] | undefined,
): Readonly<Record<string, number>> {
  const loci = Object.values(genotypes ?? {});
  if (loci.length !== 1) throw new UnreadableShape('a figure does not say at which locus');
  return loci[0];
}
