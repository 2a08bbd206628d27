import { parentsOf, SIDES, type Side } from './clutch-parents.js';
import { CodeFinder } from './code-finder.js';
import type { FileFaults } from './file-fault.js';
import type { FileRow } from './program-row.js';
import type { WouldBe } from './would-be.js';

/** Headings under which the file has its fields, for the place of a fault. */
export interface Headings {
  readonly code: string;
  readonly sex: string;
  readonly hatched: string;
  readonly sire: string;
  readonly dam: string;
  readonly clutch: string;
  readonly traits: string;
  readonly genotype: string;
}

/** Adds the faults between animals and the parents that the file names, certain or candidates. */
export function checkLinks(
  rows: readonly FileRow[],
  animals: ReadonlyMap<string, WouldBe>,
  headings: Headings,
  faults: FileFaults,
): void {
  const finder = new CodeFinder(animals);
  for (const row of rows) {
    for (const side of SIDES) {
      for (const { code } of parentsOf(row, side)) {
        const add = (
          fault: string,
          message: string,
          remedy: string,
          nearest?: readonly string[],
        ): void =>
          faults.add({
            code: fault,
            isFatal: true,
            line: row.line,
            column: headings[side],
            value: code,
            message,
            remedy,
            ...(nearest && { nearest }),
          });
        if (code === row.code) {
          // A second row of the same code is a fault of its code, not of its parents.
          if (animals.get(code)?.row !== row) continue;
          add('OWN_PARENT', `'${code}' is named as its own ${side}.`, `Correct the ${side}.`);
        } else if (!animals.has(code)) {
          const nearest = faults.isFull('UNKNOWN_PARENT') ? [] : finder.nearest(code);
          const near = nearest.map((each) => `'${each}'`);
          add(
            'UNKNOWN_PARENT',
            `There is no animal '${code}', named as ${side} of '${row.code}'.`,
            near.length > 0
              ? `Did you mean ${near.join(' or ')}? Else add a row for '${code}'.`
              : `Add a row for '${code}' or correct the code.`,
            nearest,
          );
        }
      }
    }
  }
}

/** Adds a fault where a parent is recorded with the other sex, or named both as sire and as dam. */
export function checkSexes(
  animals: ReadonlyMap<string, WouldBe>,
  headings: Headings,
  faults: FileFaults,
): void {
  const certain = { sire: new Map<string, WouldBe[]>(), dam: new Map<string, WouldBe[]>() };
  for (const young of animals.values()) {
    for (const side of SIDES) {
      const parents = parentsOf(young, side);
      for (const { code } of parents) {
        const parent = animals.get(code);
        if (!parent || code === young.code) continue;
        if (parent.sex === (side === 'sire' ? 'f' : 'm')) {
          addWrongSex(young, parent, side, headings, faults);
        } else if (parents.length === 1 && parent.sex === null) {
          const list = certain[side].get(code);
          if (list) list.push(young);
          else certain[side].set(code, [young]);
        }
      }
    }
  }
  for (const [code, asSire] of certain.sire) {
    const asDam = certain.dam.get(code);
    if (asDam) addBothSexes(code, asSire, asDam, headings, faults);
  }
}

function addWrongSex(
  young: WouldBe,
  parent: WouldBe,
  side: Side,
  headings: Headings,
  faults: FileFaults,
): void {
  const sex = side === 'sire' ? 'female' : 'male';
  const message = `'${parent.code}' is recorded as ${sex} and named as ${side} of '${young.code}'.`;
  const remedy = `Correct the sex of '${parent.code}' or the ${side} of '${young.code}'.`;
  const column = headings[side];
  if (young.row && young.isFromFile[side]) {
    const place = { line: young.row.line, column, value: parent.code };
    faults.add({ code: 'WRONG_SEX', isFatal: true, ...place, message, remedy });
  } else if (parent.row?.sex) {
    const place = { line: parent.row.line, column: headings.sex, value: parent.row.sex };
    faults.add({ code: 'WRONG_SEX', isFatal: true, ...place, message, remedy });
  }
}

/** Placed where the file names the animal in the role that fewer young give it. */
function addBothSexes(
  code: string,
  asSire: readonly WouldBe[],
  asDam: readonly WouldBe[],
  headings: Headings,
  faults: FileFaults,
): void {
  const sides = [
    { side: 'sire', young: asSire },
    { side: 'dam', young: asDam },
  ] as const;
  const ordered = asSire.length < asDam.length ? sides : sides.toReversed();
  for (const { side, young } of ordered) {
    const named = young.find(({ row, isFromFile }) => row !== null && isFromFile[side]);
    if (!named?.row || faults.isFaulty(named.row.line, headings[side])) continue;
    faults.add({
      code: 'SIRE_AND_DAM',
      isFatal: true,
      line: named.row.line,
      column: headings[side],
      value: code,
      message: `'${code}' is named as sire of '${asSire[0].code}' and as dam of '${asDam[0].code}'.`,
      remedy: 'Correct one of the two, or record its sex.',
    });
    return;
  }
}

/** Adds a fault where the dates leave no other reading than a parent that is not older than its young. */
export function checkAges(
  animals: ReadonlyMap<string, WouldBe>,
  headings: Headings,
  faults: FileFaults,
): void {
  for (const young of animals.values()) {
    if (!young.hatched) continue;
    for (const side of SIDES) {
      for (const { code } of parentsOf(young, side)) {
        const parent = animals.get(code);
        if (!parent?.hatched || code === young.code) continue;
        if (young.hatched.latest > parent.hatched.earliest) continue;
        const place = placeOfAge(young, parent, side, headings);
        if (!place) continue;
        faults.add({
          code: 'PARENT_YOUNGER',
          isFatal: true,
          ...place,
          message: `'${young.code}' (hatched ${young.hatched.text}) is not younger than its ${side} '${code}' (hatched ${parent.hatched.text}).`,
          remedy: 'Correct one of the dates or the parent.',
        });
      }
    }
  }
}

function placeOfAge(
  young: WouldBe,
  parent: WouldBe,
  side: Side,
  headings: Headings,
): { line: number; column: string; value: string } | null {
  const row = young.row;
  if (row && young.isFromFile[side]) {
    return { line: row.line, column: headings[side], value: parent.code };
  }
  const dated = row?.hatched ? row : parent.row;
  if (!dated?.hatched) return null;
  return { line: dated.line, column: headings.hatched, value: dated.hatched.text };
}
