import { Fraction } from '@scutewright/basics';
import { wholePerCentOf } from '@scutewright/genetics';
import {
  combinedExclusion,
  type ExclusionCase,
  exclusionProbability,
  genotypePosteriors,
  type ProgramInput,
  paternityIndex,
  youngToClear,
  youngToDoubt,
} from '@scutewright/inference';
import { UnreadableShape } from './case-file.js';
import { type Comparison, list, onlyKeys, record, text } from './comparison.js';
import { entries, type Json, near, onlyLocus, programInput } from './infer-block.js';
import { mateOf } from './infer-variants.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/** Rows of typed trios at one locus, with one error rate for all three. */
export function checkTrios(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['locus', 'rows']);
  onlyKeys('expected', expected, ['rows']);
  const locus = record('locus', input.locus) as unknown as ProgramInput['loci'][number];
  const rows = list('rows', input.rows).map((row) => record('row', row));
  const wanted = list('expected rows', expected.rows).map((row) => record('row', row));
  if (rows.length !== wanted.length) throw new UnreadableShape('not as many rows expected');
  for (const [i, row] of rows.entries()) {
    const typed = (animal: string): Evidence => ({
      kind: 'dna',
      animal,
      locus: locus.id,
      genotype: text(animal, row[animal]),
      error: text('error', row.error),
      model: 'replace',
    });
    const ratio = paternityIndex(
      {
        loci: [locus],
        animals: [{ id: 'dam' }, { id: 'candidate' }, { id: 'young', clutch: 'c' }],
        clutches: [{ id: 'c', dam: 'dam', sires: [{ id: 'candidate', probability: '1/2' }] }],
        evidence: ['dam', 'candidate', 'young'].map(typed),
      },
      'young',
      'candidate',
    );
    near(seen, `row ${i + 1}, likelihood_ratio`, wanted[i].likelihood_ratio, ratio ?? Number.NaN);
    const lod = wanted[i].lod_natural;
    if (lod === null) seen.same(`row ${i + 1}, excluded`, 0, ratio);
    else seen.near(`row ${i + 1}, lod`, lod, Math.log(ratio ?? Number.NaN), 1e-8);
  }
}

const EXCLUSIONS: Readonly<Record<string, ExclusionCase>> = {
  dam_known: 'dam known',
  dam_not_typed: 'dam not typed',
  both_parents_false: 'both parents false',
};
const NUMBER_WORDS = [
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
];

export function checkExclusion(expected: Json, seen: Comparison): void {
  const known = new Map<string, Json>();
  for (const [name, figures] of Object.entries(record('by_locus', expected.by_locus))) {
    const { frequencies, ...rest } = record(name, figures);
    const chances = record('frequencies', frequencies) as Record<string, string>;
    known.set(name.replaceAll(' ', '_'), chances);
    for (const [key, figure] of Object.entries(rest)) {
      if (!EXCLUSIONS[key]) throw new UnreadableShape(`the figure '${key}'`);
      near(seen, `${name}, ${key}`, figure, exclusionProbability(chances, EXCLUSIONS[key]));
    }
  }
  for (const [key, figure] of Object.entries(expected)) {
    if (key === 'by_locus') continue;
    const [, word, name, kind] = /^([a-z]+)_(.+)_loci_(dam_known|dam_not_typed)$/.exec(key) ?? [];
    const times = NUMBER_WORDS.indexOf(word) + 1;
    const chances = known.get(name) as Record<string, string> | undefined;
    if (times === 0 || !chances) throw new UnreadableShape(`the figure '${key}'`);
    const one = exclusionProbability(chances, EXCLUSIONS[kind]);
    near(seen, key, figure, combinedExclusion(new Array(times).fill(one)));
  }
}

export function checkLabels(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['carrier_probability']);
  // The wording is a suggestion of the file; the whole per cent is the check.
  onlyKeys('expected', expected, ['whole_per_cent', 'suggested_label']);
  const chances = list('carrier_probability', input.carrier_probability);
  for (const [i, wanted] of list('whole_per_cent', expected.whole_per_cent).entries()) {
    const chance = text('carrier_probability', chances[i]);
    seen.same(`whole per cent of ${chance}`, wanted, wholePerCentOf(Fraction.parse(chance)));
    // A double by its shortest decimal form: 0.29 times 100 is 28.99.. in doubles.
    const double = Fraction.parse(chance).toNumber();
    const read = Fraction.parse(double);
    seen.same(`whole per cent of the double ${double}`, wanted, wholePerCentOf(read));
  }
}

export function checkTestMating(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['mates', 'priors', 'residuals']);
  onlyKeys('expected', expected, ['young_needed', 'posterior_target']);
  for (const [mate, byConfidence] of entries('young_needed', expected.young_needed)) {
    for (const [confidence, wanted] of Object.entries(record(mate, byConfidence))) {
      seen.same(`${mate}, ${confidence}`, wanted, youngToDoubt(mateOf(mate), confidence));
    }
  }
  for (const [key, wanted] of entries('posterior_target', expected.posterior_target)) {
    const [, prior, mate, residual] = /^prior (\S+), (.+), residual (\S+)$/.exec(key) ?? [];
    if (!residual) throw new UnreadableShape(`'${key}' cannot be read`);
    seen.same(key, wanted, youngToClear(prior, mateOf(mate), residual));
  }
}

/** `prior 2/3, detection 9/10`: a carrier with that prior whose test finds that share of the alleles was negative. */
export function checkResiduals(inputs: Json, expected: Json, seen: Comparison): void {
  const input = programInput('population', inputs.population);
  const [{ id }] = input.animals;
  const [locus] = input.loci;
  const [normal, mutant] = locus.alleles;
  const [clear, het, visual] = [
    `${normal}/${normal}`,
    `${normal}/${mutant}`,
    `${mutant}/${mutant}`,
  ];
  for (const [key, figure] of Object.entries(expected)) {
    const [, prior, detection] = /^prior (\S+), detection (\S+)$/.exec(key) ?? [];
    if (!detection) throw new UnreadableShape(`'${key}' cannot be read`);
    const missed = Fraction.parse(detection).complement();
    const found = genotypePosteriors({
      ...input,
      evidence: [
        {
          kind: 'prior',
          animal: id,
          locus: locus.id,
          genotypes: { [clear]: Fraction.parse(prior).complement().toString(), [het]: prior },
        },
        {
          kind: 'likelihood',
          animal: id,
          locus: locus.id,
          genotypes: {
            [clear]: '1',
            [het]: missed.toString(),
            [visual]: missed.power(2).toString(),
          },
        },
      ],
    });
    near(seen, key, figure, onlyLocus(found.genotypes[id])[het] ?? 0);
  }
}
