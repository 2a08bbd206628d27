import { Fraction } from '@scutewright/basics';
import {
  carrierAfterNormals,
  clashingRecords,
  combinedExclusion,
  type ExclusionCase,
  exclusionProbability,
  type GenotypePosteriors,
  genotypePosteriors,
  type ProgramInput,
  paternityIndex,
  paternityIndexByLocus,
  paternityProbability,
  readProgram,
  type TestMate,
  wholePerCent,
  whyGenotype,
  youngToClear,
  youngToDoubt,
} from '@scutewright/inference';
import { buildPedigree, inbreeding } from '@scutewright/pedigree';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import { Comparison, list, onlyKeys, record, text } from './comparison.js';

type Json = Readonly<Record<string, unknown>>;
type Evidence = NonNullable<ProgramInput['evidence']>[number];

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
const PLAIN_KEYS = [
  'possible',
  'evidence_probability',
  'genotypes',
  'sires',
  'clutch_sires',
  'without_each_record',
  'minimal_conflicts',
];

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  const seen = new Comparison();
  if ('carrier_probability' in input) checkLabels(input, expected, seen);
  else if ('mates' in input) checkTestMating(input, expected, seen);
  else if ('by_locus' in expected) checkExclusion(expected, seen);
  else if ('rows' in input) checkTrios(input, expected, seen);
  else if ('animals' in input) checkProgram(input, expected, seen);
  else checkSeveral(input, expected, seen);
  return seen.verdict;
};

function programInput(what: string, value: unknown): ProgramInput {
  const input = record(what, value);
  onlyKeys(what, input, PROGRAM_KEYS);
  return input as unknown as ProgramInput;
}

/** A figure within 1e-9 of itself or 1e-12, whichever is more. An absent `expected` stands for 0. */
function near(seen: Comparison, what: string, expected: unknown, actual: number): void {
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
function odds(seen: Comparison, what: string, expected: unknown, actual: Json): void {
  const wanted = record(what, expected);
  for (const name of new Set([...Object.keys(wanted), ...Object.keys(actual)])) {
    near(seen, `${what}, ${name}`, wanted[name], Number(actual[name] ?? 0));
  }
}

function checkProgram(rawInput: Json, expected: Json, seen: Comparison): void {
  const input = programInput('input', rawInput);
  const special: Record<string, (value: unknown) => void> = {
    carrier_after_n_normal_young: (value) => checkNormalYoung(input, expected, value, seen),
    by_q: (value) => checkByFrequency(input, value, seen),
    limit_q_to_0: (value) => checkLimit(input, record('limit_q_to_0', value), seen),
    by_young_and_paternity: (value) => checkYoungAndPaternity(input, value, seen),
    before_the_sons: (value) => checkBeforeSons(input, value, seen),
    normal_young: (value) => checkBlock('normal_young', input, record('normal_young', value), seen),
    pale_young: (value) =>
      checkBlock('pale_young', withLooks(input, ['pale']), record('pale_young', value), seen),
    per_locus: (value) => {
      const { young, candidate } = trioOf(input);
      odds(seen, 'per_locus', value, paternityIndexByLocus(input, young, candidate));
    },
    paternity_index: (value) => near(seen, 'paternity_index', value, indexOf(input)),
    W: (value) => near(seen, 'W', value, paternityProbability(indexOf(input), 1 / 2)),
    // What comes of taking relatives as independent is there to be avoided; the right figure is in `genotypes`.
    wrong_if_taken_as_independent: (value) => {
      const right = genotypePosteriors(input);
      const wrong = Fraction.parse(text('wrong', record('wrong', value).exact)).toNumber();
      const found = Object.values(right.genotypes).flatMap((loci) =>
        Object.values(loci).flatMap((chances) => Object.values(chances)),
      );
      seen.same('the wrong figure is among the answers', false, found.includes(wrong));
    },
  };
  const plain: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(expected)) {
    if (PLAIN_KEYS.includes(key)) plain[key] = value;
    else if (key in special) special[key](value);
    else if (/^W_prior_\d+_\d+$/.test(key)) {
      const [, a, b] = /^W_prior_(\d+)_(\d+)$/.exec(key)!;
      const w = paternityProbability(indexOf(input), Number(a) / Number(b));
      near(seen, key, value, w);
    } else throw new UnreadableShape(`expected holds the unknown key '${key}'`);
  }
  checkBlock('', input, plain, seen);
}

/** The figures that every inference file may hold, of one input. */
function checkBlock(where: string, input: ProgramInput, expected: Json, seen: Comparison): void {
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

function entries(what: string, value: unknown): [string, unknown][] {
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

/** Several inputs by name, their figures under the same names; beside them figures of a named kind. */
function checkSeveral(inputs: Json, expected: Json, seen: Comparison): void {
  for (const [key, value] of Object.entries(expected)) {
    if (key in inputs) checkNamed(key, programInput(key, inputs[key]), record(key, value), seen);
    else if (key === 'without_each_record') {
      // It belongs to the input in which every record may be wrong, or to the only one.
      const name = 'all_can_be_misread' in inputs ? 'all_can_be_misread' : onlyKey(inputs);
      checkBlock(name, programInput(name, inputs[name]), { [key]: value }, seen);
    } else if (key === 'couple_affected_young') {
      const young = genotypePosteriors(programInput('couple', inputs.couple)).genotypes.baby;
      near(seen, key, value, onlyLocus(young)['a/a'] ?? 0);
    } else if (key === 'table') checkResiduals(inputs, record(key, value), seen);
    else throw new UnreadableShape(`expected holds the unknown key '${key}'`);
  }
}

function checkNamed(name: string, input: ProgramInput, expected: Json, seen: Comparison): void {
  if (!('F' in expected)) {
    checkBlock(name, input, expected, seen);
    return;
  }
  const { F, ...animals } = expected;
  const { genotypes } = genotypePosteriors(input);
  const pedigree = buildPedigree(
    input.animals.map(({ id, sire, dam }) => ({
      id,
      sire: sire ?? undefined,
      dam: dam ?? undefined,
    })),
  );
  const inbred = inbreeding(pedigree);
  for (const [animal, value] of Object.entries(animals)) {
    odds(seen, `${name}, ${animal}`, value, onlyLocus(genotypes[animal]));
    const row = input.animals.findIndex(({ id }) => id === animal);
    near(seen, `${name}, F of ${animal}`, F, inbred[row]);
  }
}

function onlyKey(inputs: Json): string {
  const keys = Object.keys(inputs);
  if (keys.length !== 1) throw new UnreadableShape('without_each_record of which input?');
  return keys[0];
}

function onlyLocus(
  genotypes: GenotypePosteriors['genotypes'][string] | undefined,
): Readonly<Record<string, number>> {
  const loci = Object.values(genotypes ?? {});
  if (loci.length !== 1) throw new UnreadableShape('a figure does not say at which locus');
  return loci[0];
}

/** Looks for the animals' young in order: the last animals, whose record says what was seen. */
function withLooks(input: ProgramInput, looks: readonly string[]): ProgramInput {
  const young = input.animals.filter(({ clutch, sire, dam }) => clutch || (sire && dam));
  const evidence = (input.evidence ?? []).map((entry): Evidence => {
    if (entry.kind !== 'phenotype') return entry;
    const place = young.findIndex(({ id }) => id === entry.animal);
    return place < 0 ? entry : { ...entry, seen: looks[place] === 'pale' };
  });
  return { ...input, evidence };
}

/** Keys such as `pale+normal / multiple 3/10`: what the young look like, and the paternity. */
function checkYoungAndPaternity(input: ProgramInput, expected: unknown, seen: Comparison): void {
  const sample = (input.evidence ?? []).find((entry) => entry.kind === 'phenotype');
  const [clutch] = input.clutches ?? [];
  if (!sample || !clutch) throw new UnreadableShape('no young to vary');
  const parents = input.animals.filter((animal) => !animal.clutch);
  const parentIds = parents.map(({ id }) => id);
  for (const [key, value] of Object.entries(record('by_young_and_paternity', expected))) {
    const [looks, how] = key.split(' / ').map((part) => part.trim());
    const [kind, rate] = (
      /^(\S+)(?:\s+(\S+))?$/.exec(key.slice(key.indexOf(' / ') + 3)) ?? []
    ).slice(1);
    if (!looks || !how) throw new UnreadableShape(`'${key}' cannot be read`);
    const young = looks.split('+').map((look, i) => ({ look: look.trim(), id: `y${i + 1}` }));
    const evidence = (input.evidence ?? []).filter(
      (entry) => 'animal' in entry && parentIds.includes(entry.animal),
    );
    const scores = young.map(({ look, id }): Evidence => {
      if (look !== 'pale' && look !== 'normal') throw new UnreadableShape(`the look '${look}'`);
      return { ...sample, id: `look of ${id}`, animal: id, seen: look === 'pale' };
    });
    const paternity = paternityOf(kind, rate);
    checkBlock(
      key,
      {
        ...input,
        animals: [...parents, ...young.map(({ id }) => ({ id, clutch: clutch.id }))],
        clutches: [{ ...clutch, paternity }],
        evidence: [...evidence, ...scores],
      },
      record(key, value),
      seen,
    );
  }
}

type Paternity = NonNullable<ProgramInput['clutches']>[number]['paternity'];

function paternityOf(kind: string, rate: string | undefined): Paternity {
  if (kind === 'single' || kind === 'independent') return kind;
  if (kind === 'multiple' && rate) return { multiple: rate };
  throw new UnreadableShape(`the paternity '${kind} ${rate ?? ''}'`);
}

/** The one animal of the genotypes listed whose genotype is open: the suspect. */
function suspectOf(expected: Json): string {
  const open = Object.entries(record('genotypes', expected.genotypes)).filter(([, loci]) =>
    Object.values(record('genotypes', loci)).some(
      (chances) => Object.keys(record('chances', chances)).length > 1,
    ),
  );
  if (open.length !== 1) throw new UnreadableShape('which animal is mated?');
  return open[0][0];
}

/** A suspect after n normal young by a visual or a proven het: by the records, and by the planning rule. */
function checkNormalYoung(
  input: ProgramInput,
  expected: Json,
  value: unknown,
  seen: Comparison,
): void {
  const suspect = suspectOf(expected);
  const [locus] = input.loci;
  const [normal, mutant] = locus.alleles;
  const [trait] = input.traits ?? [];
  const sex = input.animals.find(({ id }) => id === suspect)?.sex;
  const before = onlyLocus(genotypePosteriors(input).genotypes[suspect]);
  for (const [mate, byNumber] of Object.entries(record('carrier_after_n_normal_young', value))) {
    const genotype = mate === 'to a visual' ? `${mutant}/${mutant}` : `${normal}/${mutant}`;
    for (const [n, figure] of Object.entries(record(mate, byNumber))) {
      const young = Array.from({ length: Number(n) }, (_, i) => `young ${i}`);
      const [sire, dam] = sex === 'f' ? ['the mate', suspect] : [suspect, 'the mate'];
      const extended: ProgramInput = {
        ...input,
        animals: [
          ...input.animals,
          { id: 'the mate', sex: sex === 'f' ? 'm' : 'f' },
          ...young.map((id) => ({ id, sire, dam })),
        ],
        evidence: [
          ...(input.evidence ?? []),
          { kind: 'prior', animal: 'the mate', locus: locus.id, genotypes: { [genotype]: '1' } },
          ...young.map(
            (animal): Evidence => ({ kind: 'phenotype', animal, trait: trait.id, seen: false }),
          ),
        ],
      };
      const after = onlyLocus(genotypePosteriors(extended).genotypes[suspect]);
      const carrier = `${normal}/${mutant}`;
      near(seen, `${mate}, ${n} normal young`, figure, after[carrier] ?? 0);
      const planned = carrierAfterNormals(before[carrier] ?? 0, mateOf(mate), Number(n));
      near(seen, `${mate}, ${n} normal young, planned`, figure, planned.toNumber());
    }
  }
}

function mateOf(words: string): TestMate {
  if (words.includes('visual')) return { visual: 1, het: 0 };
  if (words.includes('proven het')) return { visual: 0, het: 1 };
  const perCent = /(\d+) % het/.exec(words)?.[1];
  if (!perCent) throw new UnreadableShape(`the mate '${words}'`);
  return { visual: 0, het: perCent === '66' ? '2/3' : `${perCent}/100` };
}

function withFrequency(input: ProgramInput, q: string): ProgramInput {
  const p = Fraction.parse(q).complement().toString();
  const loci = input.loci.map((locus) => {
    const [normal, mutant] = locus.alleles;
    return { ...locus, frequencies: { [normal]: p, [mutant]: q } };
  });
  return { ...input, loci };
}

const COUSINS: Readonly<Record<string, readonly [animal: string, genotype: string]>> = {
  cousin_carrier: ['K', 'n/a'],
  C_carrier: ['C', 'n/a'],
  affected_young: ['baby', 'a/a'],
};

function checkCousins(where: string, input: ProgramInput, expected: Json, seen: Comparison): void {
  const { genotypes } = genotypePosteriors(input);
  for (const [key, figure] of Object.entries(expected)) {
    if (!COUSINS[key]) throw new UnreadableShape(`the figure '${key}'`);
    const [animal, genotype] = COUSINS[key];
    near(seen, `${where}, ${key}`, figure, onlyLocus(genotypes[animal])[genotype] ?? 0);
  }
}

function checkByFrequency(input: ProgramInput, value: unknown, seen: Comparison): void {
  for (const [q, figures] of Object.entries(record('by_q', value))) {
    checkCousins(`q = ${q}`, withFrequency(input, q), record(q, figures), seen);
  }
}

/** The limit is approached: at this q it differs from the figure by far less than the tolerance. */
function checkLimit(input: ProgramInput, value: Json, seen: Comparison): void {
  checkCousins('q to 0', withFrequency(input, '1/10000000000000'), value, seen);
}

function checkBeforeSons(input: ProgramInput, value: unknown, seen: Comparison): void {
  const sons = input.animals.filter(({ id }) => id.startsWith('son')).map(({ id }) => id);
  const evidence = (input.evidence ?? []).filter(
    (entry) => !('animal' in entry) || !sons.includes(entry.animal),
  );
  const found = genotypePosteriors({ ...input, evidence }).genotypes.consultand;
  const [normal, mutant] = input.loci[0].alleles;
  near(seen, 'before_the_sons', value, onlyLocus(found)[`${normal}/${mutant}`] ?? 0);
}

function trioOf(input: ProgramInput): { young: string; candidate: string } {
  const [clutch] = input.clutches ?? [];
  const young = input.animals.find((animal) => animal.clutch === clutch?.id)?.id;
  const candidate = clutch?.sires?.[0]?.id;
  if (!young || !candidate) throw new UnreadableShape('no young with a candidate sire');
  return { young, candidate };
}

function indexOf(input: ProgramInput): number {
  const { young, candidate } = trioOf(input);
  return paternityIndex(input, young, candidate) ?? Number.NaN;
}

/** Rows of typed trios at one locus, with one error rate for all three. */
function checkTrios(input: Json, expected: Json, seen: Comparison): void {
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

function checkExclusion(expected: Json, seen: Comparison): void {
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

function checkLabels(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['carrier_probability']);
  // The wording is a suggestion of the file; the whole per cent is the check.
  onlyKeys('expected', expected, ['whole_per_cent', 'suggested_label']);
  const chances = list('carrier_probability', input.carrier_probability);
  for (const [i, wanted] of list('whole_per_cent', expected.whole_per_cent).entries()) {
    const chance = text('carrier_probability', chances[i]);
    seen.same(`whole per cent of ${chance}`, wanted, wholePerCent(chance));
    const double = Fraction.parse(chance).toNumber();
    seen.same(`whole per cent of the double ${double}`, wanted, wholePerCent(double));
  }
}

function checkTestMating(input: Json, expected: Json, seen: Comparison): void {
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
function checkResiduals(inputs: Json, expected: Json, seen: Comparison): void {
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
