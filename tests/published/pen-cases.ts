import { Fraction } from '@scutewright/basics';
import {
  arizonaFloor,
  candidateSires,
  germanFloor,
  maleConflict,
  type SireTimelineInput,
  swissFloor,
} from '@scutewright/housing';
import { type CaseAdapter, UnreadableShape } from './case-file.js';
import { Comparison, list, number, onlyKeys, record, text } from './comparison.js';

type Json = Readonly<Record<string, unknown>>;

export const check: CaseAdapter = (file) => {
  const input = record('input', file.input);
  const expected = record('expected', file.expected);
  const seen = new Comparison();
  if ('timelines' in input) checkTimelines(input, expected, seen);
  else if ('cases' in input) checkConflicts(input, expected, seen);
  else checkFloors(input, expected, seen);
  return seen.verdict;
};

/** Rows of input and of figures with the same name, in order. */
function named(key: string, input: Json, expected: Json): readonly (readonly [Json, Json])[] {
  const rows = list(key, input[key]).map((row) => record(key, row));
  const figures = list(key, expected[key]).map((row) => record(key, row));
  onlyKeys('expected', expected, [key]);
  return rows.map((row) => {
    const own = figures.filter((figure) => figure.name === row.name);
    if (own.length !== 1 || rows.length !== figures.length) {
      throw new UnreadableShape(`'${row.name}' has no figures of its own`);
    }
    return [row, own[0]];
  });
}

function checkTimelines(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['rules', 'timelines']);
  for (const [timeline, { name, ...figures }] of named('timelines', input, expected)) {
    const keys = ['name', 'story', 'window_years', 'dam', 'laid', 'animals', 'stays'];
    onlyKeys(`${name}`, timeline, [...keys, 'contacts', 'strangers']);
    const contacts = list('contacts', timeline.contacts ?? []).map((row) =>
      contactOf(timeline, row),
    );
    const found = candidateSires({ ...timeline, contacts } as unknown as SireTimelineInput);
    const values: Json = {
      possible: [...found.possible].sort(),
      certain_access: [...found.certainAccess].sort(),
      only_via_contact: [...found.onlyViaContact].sort(),
      unknown_male: found.unknownMale,
    };
    onlyKeys(`${name}`, figures, Object.keys(values));
    for (const [key, figure] of Object.entries(figures)) {
      const wanted = Array.isArray(figure) ? [...figure].sort() : figure;
      seen.same(`${name}, ${key}`, wanted, values[key]);
    }
  }
}

/** A contact names two pens or two animals: as a list, or under two keys. */
function contactOf(timeline: Json, row: unknown): Json {
  const { from, to, story: _, ...named } = record('a contact', row);
  const ids = Object.values(named).flat();
  if (ids.length !== 2) throw new UnreadableShape('a contact does not name two pens or animals');
  const animals = list('animals', timeline.animals).map((animal) => record('animal', animal).id);
  const key = ids.every((id) => animals.includes(id)) ? 'animals' : 'pens';
  return { [key]: ids, from: from ?? null, to: to ?? null };
}

function checkConflicts(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['rules', 'cases']);
  for (const [row, { name, ...figures }] of named('cases', input, expected)) {
    onlyKeys(`${name}`, row, ['name', 'story', 'males', 'stays', 'horizon']);
    const found = maleConflict(row as unknown as Parameters<typeof maleConflict>[0]);
    const values: Json = {
      possible_from: found.possibleFrom,
      certain_from: found.certainFrom,
      over_on: found.overOn,
    };
    onlyKeys(`${name}`, figures, Object.keys(values));
    for (const [key, figure] of Object.entries(figures)) {
      seen.same(`${name}, ${key}`, figure, values[key]);
    }
  }
}

function checkFloors(input: Json, expected: Json, seen: Comparison): void {
  onlyKeys('input', input, ['germany', 'switzerland']);
  for (const [key, figure] of Object.entries(expected)) {
    if (key === 'arizona_m2') seen.exact(key, figure, arizonaFloor().areaM2);
    else if (key !== 'germany' && key !== 'switzerland') {
      throw new UnreadableShape(`expected holds the unknown key '${key}'`);
    }
  }
  for (const [key, asked, figures] of rowsOf('germany', input, expected)) {
    onlyKeys(key, asked, ['shell_length_m', 'animals']);
    const length = Fraction.parse(text('shell_length_m', asked.shell_length_m));
    const animals = number('animals', asked.animals);
    const found = germanFloor(length, animals);
    const values: Readonly<Record<string, Fraction | null>> = {
      length_m: found.lengthM,
      width_m: found.widthM,
      base_area_m2: germanFloor(length, 2).areaM2,
      area_m2: found.areaM2,
      if_read_as_compound_m2: germanFloor(length, animals, 'compound').areaM2,
    };
    compareFloor(key, asked, figures, values, seen);
  }
  for (const [key, asked, figures] of rowsOf('switzerland', input, expected)) {
    onlyKeys(key, asked, ['group', 'animals']);
    const group = text('group', asked.group);
    if (group !== 'spurred' && group !== 'giants') throw new UnreadableShape(`group '${group}'`);
    const found = swissFloor(group, number('animals', asked.animals));
    compareFloor(key, asked, figures, { area_m2: found.areaM2 }, seen);
  }
}

function rowsOf(key: string, input: Json, expected: Json): [string, Json, Json][] {
  const rows = list(key, input[key] ?? []);
  const figures = list(key, expected[key] ?? []);
  if (rows.length !== figures.length) throw new UnreadableShape(`${key}: rows without figures`);
  return rows.map((row, i) => [`${key} ${i + 1}`, record(key, row), record(key, figures[i])]);
}

function compareFloor(
  what: string,
  asked: Json,
  figures: Json,
  values: Readonly<Record<string, Fraction | null>>,
  seen: Comparison,
): void {
  for (const [key, figure] of Object.entries(figures)) {
    if (key in asked) seen.same(`${what}, ${key}`, figure, asked[key]);
    else if (key in values) seen.exact(`${what}, ${key}`, figure, values[key] ?? undefined);
    else throw new UnreadableShape(`${what} holds the unknown key '${key}'`);
  }
}
