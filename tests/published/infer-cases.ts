import { Fraction } from '@scutewright/basics';
import {
  genotypePosteriors,
  type ProgramInput,
  paternityIndex,
  paternityIndexByLocus,
  paternityProbability,
} from '@scutewright/inference';
import { buildPedigree, inbreeding } from '@scutewright/pedigree';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import { Comparison, record, text } from './comparison.js';
import {
  checkBlock,
  type Json,
  near,
  odds,
  onlyLocus,
  PLAIN_KEYS,
  programInput,
} from './infer-block.js';
import {
  checkExclusion,
  checkLabels,
  checkResiduals,
  checkTestMating,
  checkTrios,
} from './infer-tables.js';
import {
  checkBeforeSons,
  checkByFrequency,
  checkLimit,
  checkNormalYoung,
  checkYoungAndPaternity,
  withLooks,
} from './infer-variants.js';

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
