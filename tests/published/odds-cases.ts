import { Fraction } from '@scutewright/basics';
import {
  type CrossOdds,
  type CrossOddsInput,
  clutchOdds,
  crossOdds,
  type FourCounts,
  goodnessOfFit,
  recombinationFromF2,
  recombinationFromTestCross,
  togetherFit,
} from '@scutewright/genetics';
import { type CaseAdapter, type CaseFile, UnreadableShape } from './case-file.js';
import { Comparison, list, number, onlyKeys, record, text, toleranceOf } from './comparison.js';
import { hetWith, parentOf } from './parent-words.js';

type Json = Readonly<Record<string, unknown>>;
const CROSS_KEYS = ['loci', 'linkage', 'traits', 'lethal', 'sire', 'dam', 'parents', 'sires'];

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  const seen = new Comparison();
  if ('xy' in input || 'zw' in input) checkSexLinked(input, expected, seen);
  else if ('cross' in input) checkLinkage(input, expected, file.tolerance, seen);
  else if ('monohybrid' in input) checkMendel(input, expected, file.tolerance, seen);
  else if (!('loci' in input)) checkNamedCrosses(input, expected, seen);
  else if ('ladder' in expected) checkLadder(input, expected, seen);
  else if ('crosses' in expected) checkCrosses(input, expected, seen);
  else checkOne(file, input, expected, seen);
  return seen.verdict;
};

function crossInput(value: unknown): CrossOddsInput {
  const input = record('input', value);
  onlyKeys('input', input, [...CROSS_KEYS, 'clutch']);
  return input as unknown as CrossOddsInput;
}

/** A parent as a map by locus, as a mixture, or as the genotype text of the one locus. */
function parent(input: CrossOddsInput, value: unknown): CrossOddsInput['sire'] {
  if (typeof value !== 'string') return value as CrossOddsInput['sire'];
  if (input.loci.length !== 1) throw new UnreadableShape(`'${value}' does not say which locus`);
  return { [input.loci[0].id]: value };
}

function traitOf(odds: CrossOdds, name: string): CrossOdds['traits'][string] {
  const found = odds.traits[name];
  if (!found) throw new UnreadableShape(`there is no trait '${name}'`);
  return found;
}

function onlyTrait(input: CrossOddsInput): string {
  if (input.traits?.length !== 1) throw new UnreadableShape('classes of which trait?');
  return input.traits[0].id;
}

/** Genotypes among the young of a class, by the key that asks for them. */
const AMONG: Readonly<Record<string, string>> = { normals_carry: 'normal', pale_are: 'pale' };

function classNamed(input: CrossOddsInput, name: string) {
  const trait = input.traits?.find(
    ({ classes, otherwise }) => otherwise === name || classes?.some((entry) => entry.name === name),
  );
  if (!trait) throw new UnreadableShape(`no trait has the class '${name}'`);
  return { trait: trait.id, class: name };
}

/** `crosses`: each its own sire and dam, with classes (one trait) or a trait by name, and genotypes among a class. */
function checkCrosses(value: Json, expected: Json, seen: Comparison): void {
  const input = crossInput(value);
  onlyKeys('expected', expected, ['crosses']);
  for (const [i, row] of list('crosses', expected.crosses).entries()) {
    const { cross, sire, dam, ...figures } = record('a cross', row);
    const what = typeof cross === 'string' ? cross : `cross ${i + 1}`;
    const amongKeys = Object.keys(figures).filter((key) => key in AMONG);
    const loci = input.loci.map((locus) => locus.id);
    const odds = crossOdds({
      ...input,
      sire: parent(input, sire),
      dam: parent(input, dam),
      joint: amongKeys.map((key) => ({ loci, among: classNamed(input, AMONG[key]) })),
    });
    for (const [key, figure] of Object.entries(figures)) {
      const named = amongKeys.indexOf(key);
      if (key === 'classes') seen.chances(what, figure, odds.traits[onlyTrait(input)].classes);
      else if (named !== -1) seen.chances(`${what}, ${key}`, figure, odds.joint[named]);
      else seen.chances(`${what}, ${key}`, figure, traitOf(odds, key).classes);
    }
  }
}

/** `{name: cross}` with an F2 and a test cross to the double recessive (the last allele of each locus, twice). */
function checkNamedCrosses(input: Json, expected: Json, seen: Comparison): void {
  for (const name of new Set([...Object.keys(input), ...Object.keys(expected)])) {
    const cross = crossInput(input[name]);
    const figures = record(name, expected[name]);
    onlyKeys(name, figures, ['F2', 'test_cross_to_double_recessive']);
    const recessive = Object.fromEntries(
      cross.loci.map(({ id, alleles }) => [id, `${alleles.at(-1)}/${alleles.at(-1)}`]),
    );
    const trait = onlyTrait(cross);
    for (const [key, figure] of Object.entries(figures)) {
      const odds = crossOdds(key === 'F2' ? cross : { ...cross, dam: recessive });
      seen.chances(`${name}, ${key}`, figure, odds.traits[trait].classes);
    }
  }
}

function checkSexLinked(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['xy', 'zw']);
  onlyKeys('expected', expected, ['crosses']);
  for (const row of list('crosses', expected.crosses)) {
    const { system, sire, dam, by_sex: bySex, ...rest } = record('a cross', row);
    onlyKeys('a cross', rest, []);
    const cross = crossInput(input[text('system', system).toLowerCase()]);
    const odds = crossOdds({ ...cross, sire: parent(cross, sire), dam: parent(cross, dam) });
    const wanted = record('by_sex', bySex);
    onlyKeys('by_sex', wanted, ['m', 'f']);
    for (const sex of ['m', 'f'] as const) {
      const found = odds.traits[onlyTrait(cross)].bySex[sex];
      seen.chances(`${system} ${sire} x ${dam}, ${sex}`, wanted[sex] ?? {}, found);
    }
  }
}

function checkLadder(value: Json, expected: Json, seen: Comparison): void {
  const input = crossInput(value);
  onlyKeys('expected', expected, ['ladder', 'generation_after_generation']);
  const [{ id: locus, alleles }] = input.loci;
  const trait = onlyTrait(input);
  const [normal, recessive] = alleles;
  const oddsOf = (sire: CrossOddsInput['sire'], dam: CrossOddsInput['dam']) => {
    const odds = crossOdds({ ...input, sire, dam });
    const genotypes = odds.hatchlings[locus];
    const normals = odds.traits[trait].within.normal?.[locus];
    return {
      visual: odds.traits[trait].classes.visual,
      het: genotypes[`${normal}/${recessive}`],
      not_carrying: genotypes[`${normal}/${normal}`],
      normals_are_het_with: normals?.[`${normal}/${recessive}`],
    };
  };
  for (const row of list('ladder', expected.ladder)) {
    const { cross, ...figures } = record('a row of the ladder', row);
    const [sire, dam, ...more] = text('cross', cross).split(' x ');
    if (!dam || more.length > 0) throw new UnreadableShape(`'${cross}' is no cross`);
    const found = oddsOf(parentOf(sire, locus, alleles), parentOf(dam, locus, alleles));
    onlyKeys('a row of the ladder', figures, Object.keys(found));
    for (const [key, figure] of Object.entries(figures)) {
      seen.exact(`${cross}, ${key}`, figure, found[key as keyof typeof found]);
    }
  }
  const series = record('generation_after_generation', expected.generation_after_generation ?? {});
  for (const [key, figures] of Object.entries(series)) {
    let chance = Fraction.of(2, 3);
    for (const [generation, figure] of list(key, figures).entries()) {
      if (generation > 0) {
        const own = hetWith(chance.toString(), locus, alleles);
        const mates: Json = { to_normal: 'normal', to_het: 'het' };
        const mate =
          key === 'to_own_kind_unrelated' ? own : parentOf(text(key, mates[key]), locus, alleles);
        chance = oddsOf(own, mate).normals_are_het_with ?? Fraction.zero;
      }
      seen.exact(`${key}, generation ${generation}`, figure, chance);
    }
  }
}

function checkLinkage(input: Json, expected: Json, tolerance: unknown, seen: Comparison): void {
  onlyKeys('input', input, ['cross', 'counts', 'test_cross_counts']);
  onlyKeys('expected', expected, ['odds', 'ml', 'test_cross_r']);
  const cross = crossInput(input.cross);
  const [A, B] = cross.loci;
  const coupling = { [A.id]: A.alleles.join('/'), [B.id]: B.alleles.join('/') };
  const repulsion = { ...coupling, [B.id]: [...B.alleles].reverse().join('/') };
  const recessive = Object.fromEntries(
    [A, B].map(({ id, alleles }) => [id, `${alleles.at(-1)}/${alleles.at(-1)}`]),
  );
  const pairs: Readonly<Record<string, readonly [typeof coupling, typeof coupling]>> = {
    test_cross_coupling: [coupling, recessive],
    test_cross_repulsion: [repulsion, recessive],
    F2_coupling: [coupling, coupling],
    F2_repulsion: [repulsion, repulsion],
    coupling_x_repulsion: [coupling, repulsion],
  };
  for (const row of list('odds', expected.odds ?? [])) {
    const { r, ...figures } = record('a row of odds', row);
    for (const [key, figure] of Object.entries(figures)) {
      if (!pairs[key]) throw new UnreadableShape(`the cross '${key}' is not known`);
      const [sire, dam] = pairs[key];
      const linkage = [{ loci: [A.id, B.id], r: text('r', r) }];
      const odds = crossOdds({ ...cross, linkage, sire, dam });
      seen.chances(`r ${r}, ${key}`, figure, odds.traits[onlyTrait(cross)].classes);
    }
  }
  const counts = record('counts', input.counts ?? {});
  const near = toleranceOf(tolerance, 'ml', 1e-9);
  for (const [key, value] of Object.entries(record('ml', expected.ml ?? {}))) {
    const figures = record(key, value);
    onlyKeys(key, figures, ['counts', 'theta', 'r']);
    const phase = key.startsWith('coupling') ? 'coupling' : 'repulsion';
    const found = recombinationFromF2(list(key, counts[key]) as unknown as FourCounts, phase);
    seen.same(`${key}, counts`, figures.counts, counts[key]);
    seen.near(`${key}, theta`, figures.theta, found.theta, near);
    seen.near(`${key}, r`, figures.r, found.r, near);
  }
  if (expected.test_cross_r === undefined) return;
  // The file lists parental classes first, recombinants last.
  const [p1, p2, r1, r2] = list('test_cross_counts', input.test_cross_counts) as FourCounts;
  const r = recombinationFromTestCross([p1, r1, r2, p2], 'coupling');
  seen.exact('test_cross_r', expected.test_cross_r, r);
}

function checkMendel(input: Json, expected: Json, tolerance: unknown, seen: Comparison): void {
  onlyKeys('input', input, ['monohybrid', 'dihybrid', 'counts', 'dihybrid_counts']);
  const near = toleranceOf(tolerance, 'p', 1e-5);
  const cross = crossInput(input.monohybrid);
  const mono = crossOdds(cross).traits[onlyTrait(cross)].classes;
  const di = input.dihybrid
    ? crossOdds(crossInput(input.dihybrid)).traits[onlyTrait(crossInput(input.dihybrid))].classes
    : {};
  const ratio = [mono.dominant, mono.recessive];
  const fits = list('counts', input.counts).map((row) => {
    const { character, counts } = record('counts', row);
    return { character, counts, fit: goodnessOfFit(list('counts', counts) as number[], ratio) };
  });
  const total = togetherFit(fits.map(({ fit }) => fit));
  const names = Object.keys(di);
  const diCounts = record('dihybrid_counts', input.dihybrid_counts ?? {});
  const diFit =
    names.length > 0
      ? goodnessOfFit(
          names.map((name) => number(name, diCounts[name])),
          names.map((name) => di[name]),
        )
      : total;
  for (const [key, figure] of Object.entries(expected)) {
    const missed = /^f3_test_misses_a_het_with_(\d+)_young$/.exec(key);
    if (key === 'monohybrid_classes') seen.chances(key, figure, mono);
    else if (key === 'dihybrid_classes') seen.chances(key, figure, di);
    else if (key === 'total_chi_square') seen.exact(key, figure, total.chiSquare);
    else if (key === 'total_df') seen.same(key, figure, total.degreesOfFreedom);
    else if (key === 'total_p') seen.near(key, figure, total.p, near);
    else if (key === 'dihybrid_chi_square') seen.exact(key, figure, diFit.chiSquare);
    else if (key === 'dihybrid_df') seen.same(key, figure, diFit.degreesOfFreedom);
    else if (key === 'dihybrid_p') seen.near(key, figure, diFit.p, near);
    else if (missed) {
      const eggs = Number(missed[1]);
      const trait = onlyTrait(cross);
      const clutch = clutchOdds({ ...cross, eggs, trait, target: 'recessive' });
      seen.exact(key, figure, clutch.exact?.counts[0]);
    } else if (key === 'fits') {
      seen.same('number of fits', list(key, figure).length, fits.length);
      for (const [i, row] of list(key, figure).entries()) {
        const { chi_square: chiSquare, df, p, ratio: said, ...rest } = record('a fit', row);
        const { character, counts, fit } = fits[i];
        const what = `fit of ${character}`;
        seen.same(what, rest, { character, counts });
        seen.same(`${what}, ratio`, said, '3:1');
        seen.same(`${what}, df`, df, fit.degreesOfFreedom);
        seen.exact(`${what}, chi-square`, chiSquare, fit.chiSquare);
        seen.near(`${what}, p`, p, fit.p, near);
      }
    } else throw new UnreadableShape(`expected holds the unknown key '${key}'`);
  }
}

/** One pairing with loss, genotypes, classes, a clutch and goodness-of-fit figures. */
function checkOne(file: CaseFile, value: Json, expected: Json, seen: Comparison): void {
  const input = crossInput(value);
  const odds = crossOdds(input);
  const [{ id: locus }] = input.loci;
  for (const [key, figure] of Object.entries(expected)) {
    const clutch = /^clutch(?:_of_(\d+))?$/.exec(key);
    if (key === 'loss') seen.exact(key, figure, odds.loss);
    else if (key === 'eggs') seen.chances(key, figure, odds.eggs[locus]);
    else if (key === 'hatchlings') seen.chances(key, figure, odds.hatchlings[locus]);
    else if (key === 'classes') seen.chances(key, figure, odds.traits[onlyTrait(input)].classes);
    else if (clutch) {
      const asked = record('clutch', value.clutch);
      onlyKeys('clutch', asked, ['eggs', 'hatch', 'trait', 'target']);
      if (clutch[1]) seen.same('eggs', Number(clutch[1]), asked.eggs);
      const levels = Object.keys(record(key, record(key, figure).eggs_needed ?? {}));
      const found = clutchOdds({ ...input, ...(asked as { eggs: number }), levels });
      checkClutchFigures(key, record(key, figure), found, seen);
    } else if (key === 'chi_square') checkQuotedCounts(file, record(key, figure), seen);
    else if (input.traits?.some((trait) => trait.id === key)) {
      seen.chances(key, figure, odds.traits[key].classes);
    } else throw new UnreadableShape(`expected holds the unknown key '${key}'`);
  }
}

/** Also used for `clutch-` files: figures of one clutch. */
export function checkClutchFigures(
  what: string,
  figures: Json,
  found: ReturnType<typeof clutchOdds>,
  seen: Comparison,
): void {
  for (const [key, figure] of Object.entries(figures)) {
    const name = `${what}, ${key}`;
    if (key === 'per_egg') {
      const weights = found.perEgg.map(({ probability, weight }) => [String(probability), weight]);
      seen.chances(name, figure, Object.fromEntries(weights));
    } else if (key === 'counts') {
      const counts = list(name, figure);
      seen.same(`${name}, length`, counts.length, found.counts.length);
      for (const [k, chance] of counts.entries()) {
        seen.exact(`${name} ${k}`, chance, found.exact?.counts[k]);
        seen.near(`${name} ${k} as a number`, chance, found.counts[k], 1e-12);
      }
    } else if (key === 'at_least_one') {
      seen.exact(name, figure, found.exact?.atLeastOne.any);
      seen.near(`${name} as a number`, figure, found.atLeastOne.any, 1e-12);
    } else if (key === 'mean') seen.exact(name, figure, found.mean);
    else if (key === 'limit') seen.exact(name, figure, found.limit);
    else if (key === 'eggs_needed') {
      for (const [level, eggs] of Object.entries(record(name, figure))) {
        const needed = found.eggsNeeded.find((each) => each.level.equals(Fraction.parse(level)));
        if (!needed) throw new UnreadableShape(`${name}: no level ${level}`);
        seen.same(`${name} ${level}`, eggs, needed.eggs);
      }
    } else throw new UnreadableShape(`${what} holds the unknown key '${key}'`);
  }
}

/** Counts that the file quotes in words only (`800:435`), each against the ratios asked, in the order quoted. */
function checkQuotedCounts(file: CaseFile, figures: Json, seen: Comparison): void {
  const quoted = JSON.stringify([file.how_obtained, file.source]).matchAll(/(\d{3,}):(\d{3,})/g);
  const counts = [...quoted].map(([, first, second]) => [Number(first), Number(second)]);
  const groups: string[] = [];
  for (const [key, figure] of Object.entries(figures)) {
    const parts = /^(.+)_(\d+):(\d+)$/.exec(key);
    if (!parts) throw new UnreadableShape(`'${key}' names no ratio`);
    const [, group, first, second] = parts;
    if (!groups.includes(group)) groups.push(group);
    const observed = counts[groups.indexOf(group)];
    if (!observed) throw new UnreadableShape(`the file quotes no counts for '${group}'`);
    const whole = Number(first) + Number(second);
    const ratio = [Fraction.of(Number(first), whole), Fraction.of(Number(second), whole)];
    seen.exact(key, figure, goodnessOfFit(observed, ratio).chiSquare);
  }
}
