import {
  generationInterval,
  heterozygosityKept,
  inbreedingRate,
  neFromFamilySize,
  neFromSexRatio,
  neOverGenerations,
  type PathAges,
  yearlyInbreedingRate,
} from '@scutewright/pedigree';
import { INBREEDING_COSTS, inbreedingSurvival } from '@scutewright/planning';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import {
  Comparison,
  fractionOf,
  list,
  number,
  onlyKeys,
  record,
  toleranceOf,
} from './comparison.js';

type Json = Readonly<Record<string, unknown>>;
/** The kernels of effective size work in doubles: 'exact' figures are met to their last digits. */
const DOUBLE = 1e-12;

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  const seen = new Comparison();
  if ('rows' in input) checkSurvival(input, expected, file.tolerance, seen);
  else checkSizes(input, expected, file.tolerance, seen);
  return seen.verdict;
};

function real(what: string, value: unknown): number {
  return fractionOf(what, value).toNumber();
}

function rowsOf(key: string, input: Json, expected: Json): [string, unknown, unknown][] {
  const rows = list(key, input[key]);
  const figures = list(key, expected[key]);
  if (rows.length !== figures.length) throw new UnreadableShape(`${key}: rows without figures`);
  return rows.map((row, i) => [`${key} ${i + 1}`, row, figures[i]]);
}

function checkSurvival(input: Json, expected: Json, tolerance: unknown, seen: Comparison): void {
  onlyKeys('input', input, ['rows']);
  onlyKeys('expected', expected, ['rows']);
  const near = toleranceOf(tolerance, 'decimals', DOUBLE);
  for (const [what, row, figure] of rowsOf('rows', input, expected)) {
    const asked = record(what, row);
    onlyKeys(what, asked, ['lethal_equivalents_per_diploid', 'F']);
    const { survival_relative_to_F_0: survival, source, ...repeated } = record(what, figure);
    seen.same(what, repeated, asked);
    const equivalents = real(what, asked.lethal_equivalents_per_diploid);
    const F = real(what, asked.F);
    seen.near(`${what}, ${source}`, survival, inbreedingSurvival(equivalents, F), near);
    const shipped = INBREEDING_COSTS.find((cost) => cost.lethalEquivalents === equivalents);
    if (shipped?.id === 'ralls-median' && F === 0.25) {
      const found = inbreedingSurvival(shipped.lethalEquivalents, F);
      seen.near('published 0.675', 0.675, found, toleranceOf(tolerance, 'published 0.675', 5e-4));
      const cost = toleranceOf(tolerance, 'published cost 0.33', 6e-3);
      seen.near('published cost 0.33', 0.33, 1 - found, cost);
    }
  }
}

function checkSizes(input: Json, expected: Json, tolerance: unknown, seen: Comparison): void {
  const inputs = ['groups', 'harmonic', 'paths', 'family_variance'];
  onlyKeys('input', input, inputs);
  const keys = ['groups', 'harmonic', 'generation_interval', 'per_year', 'family_variance'];
  onlyKeys('expected', expected, keys);
  if ('groups' in expected) checkGroups(input, expected, seen);
  if ('harmonic' in expected) {
    for (const [what, sizes, figure] of rowsOf('harmonic', input, expected)) {
      seen.near(what, figure, neOverGenerations(list(what, sizes) as number[]), 1e-9);
    }
  }
  if ('family_variance' in expected) {
    for (const [what, row, figure] of rowsOf('family_variance', input, expected)) {
      const asked = record(what, row);
      const { Ne, ...repeated } = record(what, figure);
      seen.same(what, repeated, asked);
      const variance = real(what, asked.variance_of_family_size);
      seen.near(what, Ne, neFromFamilySize(number(what, asked.N), variance), DOUBLE);
    }
  }
  if ('generation_interval' in expected) {
    const paths = { paths: expected.generation_interval };
    for (const [what, row, figure] of rowsOf('paths', input, paths)) {
      checkInterval(what, record(what, row), record(what, figure), seen);
    }
  }
  const near = toleranceOf(tolerance, 'decimals', 1e-9);
  for (const [i, row] of list('per_year', expected.per_year ?? []).entries()) {
    const { males, females, interval_years: years, ...figures } = record('per_year', row);
    const rate = inbreedingRate(neFromSexRatio(number('males', males), number('females', females)));
    const yearly = yearlyInbreedingRate(rate, real('interval_years', years));
    const values: Readonly<Record<string, number>> = {
      rate_per_generation: rate,
      rate_per_year_simple: yearly.simple,
      rate_per_year_compound: yearly.compound,
    };
    onlyKeys('per_year', figures, Object.keys(values));
    for (const [key, figure] of Object.entries(figures)) {
      seen.near(`per_year ${i + 1}, ${key}`, figure, values[key], near);
    }
  }
}

function checkGroups(input: Json, expected: Json, seen: Comparison): void {
  for (const [what, row, figure] of rowsOf('groups', input, expected)) {
    const asked = record(what, row);
    const { Ne, rate_per_generation: rate, ...rest } = record(what, figure);
    const { males, females, ...kept } = rest;
    seen.same(what, { males, females }, asked);
    const ne = neFromSexRatio(number(what, males), number(what, females));
    seen.near(`${what}, Ne`, Ne, ne, DOUBLE);
    seen.near(`${what}, rate`, rate, inbreedingRate(ne), DOUBLE);
    for (const [key, value] of Object.entries(kept)) {
      const generations = /^heterozygosity_kept_after_(\d+)$/.exec(key);
      if (!generations) throw new UnreadableShape(`${what} holds the unknown key '${key}'`);
      const found = heterozygosityKept(ne, Number(generations[1]));
      seen.near(`${what}, ${key}`, value, found, DOUBLE);
    }
  }
}

function checkInterval(what: string, row: Json, figures: Json, seen: Comparison): void {
  const names: Readonly<Record<keyof PathAges, string>> = {
    sireToSon: 'sire_to_son',
    sireToDaughter: 'sire_to_daughter',
    damToSon: 'dam_to_son',
    damToDaughter: 'dam_to_daughter',
  };
  onlyKeys(what, row, Object.values(names));
  const ages = Object.fromEntries(
    Object.entries(names).map(([path, key]) => [
      path,
      list(`${what}, ${key}`, row[key]).map((age) => real(key, age)),
    ]),
  ) as unknown as PathAges;
  const found = generationInterval(ages);
  const { path_means: means, interval, plain_mean_of_all_links: plain, ...rest } = figures;
  onlyKeys(what, rest, []);
  seen.near(`${what}, interval`, interval, found.interval, DOUBLE);
  seen.near(`${what}, plain mean`, plain, found.meanOfPairs, DOUBLE);
  const wanted = record(`${what}, path_means`, means);
  for (const [path, key] of Object.entries(names)) {
    seen.near(`${what}, ${key}`, wanted[key], found.pathMeans[path as keyof PathAges], DOUBLE);
  }
}
