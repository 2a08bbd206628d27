import { type ClutchInput, clutchOdds, groupOdds, type MixtureInput } from '@scutewright/genetics';
import { shareOfMales } from '@scutewright/housing';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import { Comparison, list, number, onlyKeys, record, text, toleranceOf } from './comparison.js';
import { checkClutchFigures } from './odds-cases.js';
import { hetWith, parentOf } from './parent-words.js';

type Json = Readonly<Record<string, unknown>>;
/** The recessive locus of files that name parents in words. */
const LOCUS = { id: 'a', alleles: ['N', 'a'] } as const;
const VISUAL = 'visual = a/a';

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  const seen = new Comparison();
  if ('curve' in input) checkSexes(input, expected, file.tolerance, seen);
  else if ('clutches' in input) checkSeveral(input, expected, seen);
  else if (list('rows', input.rows).some((row) => 'candidates' in record('row', row))) {
    checkUncertainSire(input, expected, seen);
  } else checkRows(input, expected, seen);
  return seen.verdict;
};

function pairedRows(input: Json, expected: Json): readonly (readonly [Json, Json])[] {
  const rows = list('rows', input.rows);
  const figures = list('expected rows', expected.rows);
  if (rows.length !== figures.length)
    throw new UnreadableShape('rows and figures differ in number');
  return rows.map((row, i) => [record('a row', row), record('figures', figures[i])]);
}

function checkRows(input: Json, expected: Json, seen: Comparison): void {
  const { rows: _, ...shared } = input;
  onlyKeys('input', shared, ['loci', 'linkage', 'traits', 'lethal', 'trait', 'target']);
  onlyKeys('expected', expected, ['rows']);
  for (const [row, figures] of pairedRows(input, expected)) {
    const { cross, ...asked } = row;
    onlyKeys('a row', asked, ['sire', 'dam', 'parents', 'eggs', 'hatch', 'trait', 'target']);
    const { cross: name, eggs, hatch, ...wanted } = figures;
    const what = `${cross}, ${row.eggs} eggs`;
    seen.same(what, [name, eggs, hatch], [cross, row.eggs, row.hatch]);
    const levels = Object.keys(record(what, wanted.eggs_needed ?? {}));
    const question = { ...shared, ...asked, levels } as unknown as ClutchInput;
    checkClutchFigures(what, wanted, clutchOdds(question), seen);
  }
}

function checkSeveral(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['male', 'female', 'clutches']);
  const dam = input.female as MixtureInput;
  const sire = { [LOCUS.id]: text('male', input.male) };
  const question = { loci: [LOCUS], trait: VISUAL, sire, dam };
  const figures = { ...expected };
  for (const [i, row] of list('clutches', input.clutches).entries()) {
    const asked = record('clutches', row);
    const {
      clutches,
      eggs_each: each,
      ...wanted
    } = record('figures', list('rows', expected.rows)[i]);
    seen.same(`row ${i + 1}`, { clutches, eggs_each: each }, asked);
    const eggs = new Array<number>(number('clutches', clutches)).fill(number('eggs_each', each));
    const same = clutchOdds({ ...question, eggs });
    const females = eggs.map((n) => ({ dam, eggs: [n] }));
    const group = groupOdds({ loci: [LOCUS], trait: VISUAL, sire, females });
    for (const [key, figure] of Object.entries(wanted)) {
      const what = `${clutches} clutches, ${key}`;
      if (key === 'same_visual_male_same_66_female') {
        seen.exact(what, figure, same.exact?.atLeastOne.any);
      } else if (key === 'same_visual_male_as_many_unrelated_66_females') {
        seen.exact(what, figure, group.exact ?? undefined);
      } else if (key === 'trap_eggs_as_if_independent') {
        // The trap is what the kernel gives when every egg is told to have a dam of its own.
        const alone = eggs.flatMap((n) => new Array(n).fill({ dam, eggs: [1] }));
        const trap = groupOdds({ loci: [LOCUS], trait: VISUAL, sire, females: alone });
        seen.exact(what, figure, trap.exact ?? undefined);
      } else throw new UnreadableShape(`unknown figure '${key}'`);
    }
  }
  delete figures.rows;
  const after = (eggs: number) =>
    clutchOdds({ ...question, eggs, seen: [{ looked: eggs, target: 0 }] });
  for (const [key, figure] of Object.entries(figures)) {
    const normals = /^female_66_after_one_clutch_of_(\d+)_normals$/.exec(key);
    const second = /^second_clutch_of_(\d+)_given_first_all_normal$/.exec(key);
    if (normals) {
      const { perEgg } = after(Number(normals[1]));
      seen.exact(key, figure, perEgg.find(({ probability }) => !probability.isZero)?.weight);
    } else if (second) seen.exact(key, figure, after(Number(second[1])).exact?.atLeastOne.any);
    else throw new UnreadableShape(`unknown figure '${key}'`);
  }
}

function checkUncertainSire(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['rows']);
  onlyKeys('expected', expected, ['rows']);
  for (const [row, figures] of pairedRows(input, expected)) {
    onlyKeys('a row', row, ['case', 'candidates', 'dam_het_probability', 'eggs']);
    const { case: name, ...wanted } = figures;
    const what = text('case', row.case);
    seen.same(what, name, what);
    const sires = list('candidates', row.candidates).map((candidate, k) => {
      const { weight, male, ...rest } = record('a candidate', candidate);
      onlyKeys('a candidate', rest, []);
      const genotypes = parentOf(text('male', male), LOCUS.id, LOCUS.alleles);
      return { id: `male ${k + 1}`, probability: text('weight', weight), genotypes };
    });
    const dam = hetWith(text('dam', row.dam_het_probability), LOCUS.id, LOCUS.alleles);
    const question = { loci: [LOCUS], trait: VISUAL, sires, dam, eggs: number('eggs', row.eggs) };
    for (const [key, figure] of Object.entries(wanted)) {
      const several = /^(multiple_paternity|two_sires)_(\d+)_percent$/.exec(key);
      const kind = several?.[1] === 'two_sires' ? ('TWO_SIRES' as const) : ('MIXED' as const);
      const paternity = several
        ? { kind, rate: `${several[2]}/100` }
        : ({ one_sire_per_clutch: 'ONE_SIRE', a_sire_per_egg: 'EACH_OWN_SIRE' } as const)[key];
      if (!paternity) throw new UnreadableShape(`unknown figure '${key}'`);
      const found = clutchOdds({ ...question, paternity });
      seen.exact(`${what}, ${key}`, figure, found.exact?.atLeastOne.any);
    }
  }
}

function checkSexes(input: Json, expected: Json, tolerance: unknown, seen: Comparison): void {
  onlyKeys('input', input, ['curve', 'hatch', 'rows']);
  onlyKeys('expected', expected, ['rows']);
  const curve = /^share of males = 1\/\(1\+exp\(\(T-([\d.]+)\)\/([\d.]+)\)\)$/.exec(
    text('curve', input.curve),
  );
  if (!curve) throw new UnreadableShape('the curve is not 1/(1+exp((T-P)/S))');
  const [pivotal, scale] = [Number(curve[1]), Number(curve[2])];
  const near = toleranceOf(tolerance, 'decimals', 1e-9);
  for (const [row, figures] of pairedRows(input, expected)) {
    onlyKeys('a row', row, ['celsius', 'pairing', 'eggs']);
    const { celsius, pairing, eggs, ...wanted } = figures;
    const what = `${row.pairing}, ${row.eggs} eggs, ${row.celsius} C`;
    seen.same(what, { celsius, pairing, eggs }, row);
    const [sire, dam] = text('pairing', pairing)
      .split(' x ')
      .map((word) => parentOf(word, LOCUS.id, LOCUS.alleles));
    const maleShare = shareOfMales({ pivotal, scale }, number('celsius', celsius));
    const hatch = number('hatch', input.hatch);
    const found = clutchOdds({
      ...{ loci: [LOCUS], trait: VISUAL, sire, dam, hatch, maleShare },
      eggs: number('eggs', eggs),
    }).atLeastOne;
    const values: Readonly<Record<string, number>> = {
      share_male: maleShare,
      visual_male: found.male,
      visual_female: found.female,
      visuals_of_both_sexes: found.eachSex,
      visual: found.any,
    };
    onlyKeys('figures', wanted, Object.keys(values));
    for (const [key, figure] of Object.entries(wanted)) {
      seen.near(`${what}, ${key}`, figure, values[key], near);
    }
  }
}
