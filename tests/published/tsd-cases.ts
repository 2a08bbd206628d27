import {
  daysAt,
  fitRateLine,
  fitSexCurve,
  type IncubationRecord,
  type SexCount,
  shareOfMales,
  transitionalRange,
} from '@scutewright/housing';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import { Comparison, list, number, onlyKeys, record, toleranceOf } from './comparison.js';

type Json = Readonly<Record<string, unknown>>;
/** Printed figures carry six decimals or more; half a unit of the last, with room for the fit itself. */
const PRINTED = 2e-6;

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  onlyKeys('input', input, ['model', 'species']);
  const species = record('species', input.species);
  const seen = new Comparison();
  for (const name of new Set([...Object.keys(species), ...Object.keys(expected)])) {
    const given = record(name, species[name]);
    const figures = record(name, expected[name]);
    if ('days' in given) checkDays(name, given, figures, file.tolerance, seen);
    else checkFit(name, given, figures, file.tolerance, seen);
  }
  return seen.verdict;
};

function checkFit(
  name: string,
  given: Json,
  figures: Json,
  tolerance: unknown,
  seen: Comparison,
): void {
  onlyKeys(name, given, ['counts', 'data_source', 'printed_elsewhere']);
  const fit = fitSexCurve(list('counts', given.counts) as readonly SexCount[]);
  if (fit.kind !== 'fitted') {
    seen.same(`${name}, kind of fit`, 'fitted', fit.kind);
    return;
  }
  const pairs: Readonly<Record<string, readonly [readonly (number | null)[], number]>> = {
    profile_95: [fit.pivotalRange, toleranceOf(tolerance, 'profile', 1e-4)],
    TRT_5_95: [transitionalRange(fit.curve), toleranceOf(tolerance, 'TRT', PRINTED)],
  };
  for (const [key, figure] of Object.entries(figures)) {
    const what = `${name}, ${key}`;
    if (key === 'pivotal') {
      seen.near(what, figure, fit.curve.pivotal, toleranceOf(tolerance, 'pivotal', 1e-6));
    } else if (key === 'S') {
      seen.near(what, figure, fit.curve.scale, toleranceOf(tolerance, 'S', 1e-6));
    } else if (key === 'log_likelihood') {
      seen.near(what, figure, fit.logLikelihood, toleranceOf(tolerance, key, PRINTED));
    } else if (key in pairs) {
      const [values, near] = pairs[key];
      for (const [i, end] of list(what, figure).entries()) {
        const value = values[i];
        if (end === null || value === null) seen.same(`${what} ${i}`, end, value);
        else seen.near(`${what} ${i}`, end, value, near);
      }
    } else if (key === 'share_male_at') {
      for (const [celsius, share] of Object.entries(record(what, figure))) {
        const found = shareOfMales(fit.curve, Number(celsius));
        seen.near(`${what} ${celsius}`, share, found, toleranceOf(tolerance, 'share', PRINTED));
      }
    } else throw new UnreadableShape(`${name} holds the unknown key '${key}'`);
  }
}

function checkDays(
  name: string,
  given: Json,
  figures: Json,
  tolerance: unknown,
  seen: Comparison,
): void {
  onlyKeys(name, given, ['days', 'data_source', 'quoted_line']);
  const records = list('days', given.days) as readonly IncubationRecord[];
  const line = fitRateLine(records);
  const quoted = given.quoted_line as { readonly K: number; readonly T0: number } | undefined;
  const near = toleranceOf(tolerance, 'days', 1e-5);
  for (const [key, figure] of Object.entries(figures)) {
    const what = `${name}, ${key}`;
    if (key === 'K') seen.near(what, figure, line.K, toleranceOf(tolerance, 'K', 1e-6));
    else if (key === 'T0') seen.near(what, figure, line.T0, toleranceOf(tolerance, 'T0', 1e-6));
    else if (key === 'largest_miss_of_refit') seen.near(what, figure, line.largestMiss ?? 0, near);
    else if (key === 'predictions') {
      for (const row of list(what, figure)) {
        const { celsius, observed, ...wanted } = record(what, row);
        const T = number('celsius', celsius);
        const own = records.find((each) => each.celsius === T);
        seen.same(`${what} ${T}, observed`, observed, own?.days);
        for (const [which, value] of Object.entries(wanted)) {
          const found =
            which === 'rate_line_refit'
              ? daysAt(line, T)
              : which === 'rate_line_quoted' && quoted
                ? daysAt(quoted, T)
                : null;
          if (found === null) throw new UnreadableShape(`${what} holds the unknown key '${which}'`);
          seen.near(`${what} ${T}, ${which}`, value, found, near);
        }
      }
    } else throw new UnreadableShape(`${name} holds the unknown key '${key}'`);
  }
}
