import { candidatesOf, unrecordedShare } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import type { GeneRow } from '../genes/genes.types.js';
import { careLines } from './sale-cautions.js';
import type { SaleSheet, SheetLine } from './sales.types.js';

export interface SheetFacts {
  readonly snapshot: Snapshot;
  readonly position: number;
  readonly genes: GeneRow;
  readonly inbreeding: number;
  readonly generations: number;
}

/** What the records hold of one animal, a line each with what it rests on; what they do not hold is named, never guessed. */
export function saleSheet(facts: SheetFacts): SaleSheet {
  const { snapshot, position, genes } = facts;
  const animal = new Animal(snapshot, position);
  const notKnown: string[] = [];
  const lines: SheetLine[] = [
    {
      what: 'Species',
      finding: animal.species,
      basis: 'as recorded; subspecies and locality only where they stand here',
    },
    line('Hatched', animal.hatched?.text ?? null, 'its record', 'when it hatched', notKnown),
    sexLine(animal, notKnown),
    ...sizeLines(snapshot, position, notKnown),
    marksLine(snapshot, position, notKnown),
    parentLine(snapshot, position, 'Mother', notKnown),
    parentLine(snapshot, position, 'Father', notKnown),
    ...genes.findings.map(({ locus, label, certainCopies, carries, why }): SheetLine => {
      if (label === 'not known') notKnown.push(`what it carries at ${locus.name}`);
      const odds = certainCopies === null && label !== 'not known' ? `, ${carries.said}` : '';
      return { what: locus.name, finding: `${label}${odds}`, basis: why[0] ?? null };
    }),
    inbreedingLine(facts, notKnown),
    line('Health', null, '', 'its health: this program holds no veterinary record of it', notKnown),
  ].filter((each): each is SheetLine => each !== null);
  return {
    animal,
    sentence: sentenceOf(facts, animal),
    lines,
    notKnown,
    care: careLines(animal.species),
  };
}

function sentenceOf({ genes }: SheetFacts, animal: Animal): string {
  const sex = { MALE: 'male', FEMALE: 'female', UNKNOWN: 'sex not known' }[animal.sex.sex];
  const hatched = animal.hatched ? `hatched ${animal.hatched.text}` : 'hatching date not known';
  const said = genes.findings
    .filter(({ label, certainCopies }) => certainCopies !== 0 && label !== 'not known')
    .map(({ locus, label, certainCopies, carries }) =>
      certainCopies === null
        ? `${label} at ${locus.name} (${carries.said})`
        : `${label} at ${locus.name}`,
    );
  return `${animal.species}, ${hatched}, ${sex}${said.length > 0 ? `; ${said.join('; ')}` : ''}.`;
}

/** A line where something is known; else it goes among what is not. */
function line(
  what: string,
  finding: string | null,
  basis: string,
  missing: string,
  notKnown: string[],
): SheetLine | null {
  if (finding !== null) return { what, finding, basis };
  notKnown.push(missing);
  return null;
}

function sexLine({ sex }: Animal, notKnown: string[]): SheetLine | null {
  if (sex.sex === 'UNKNOWN') {
    notKnown.push('its sex; an incubator setting is no proof of it');
    return null;
  }
  return { what: 'Sex', finding: sex.sex.toLowerCase(), basis: sex.why[0] ?? null };
}

const SIZES = [
  { kind: 'scl', what: 'Shell length', unit: 'mm, straight' },
  { kind: 'plastron', what: 'Plastron length', unit: 'mm' },
  { kind: 'mass', what: 'Mass', unit: 'g' },
] as const;

function sizeLines(snapshot: Snapshot, position: number, notKnown: string[]): SheetLine[] {
  const taken = snapshot.season.measurements.get(position) ?? [];
  const lines = SIZES.flatMap(({ kind, what, unit }): SheetLine[] => {
    const last = taken.filter((each) => each.kind === kind).at(-1);
    if (!last) return [];
    const how = [last.date ?? 'day not recorded', last.method].filter(Boolean).join(', ');
    return [{ what, finding: `${Math.round(last.value)} ${unit}`, basis: how }];
  });
  if (lines.length === 0) notKnown.push('its size and mass: never measured');
  return lines;
}

function marksLine(snapshot: Snapshot, position: number, notKnown: string[]): SheetLine | null {
  const marks = (snapshot.season.marks.get(position) ?? []).filter(({ isLost }) => !isLost);
  return line(
    'Marks',
    marks.length > 0
      ? marks.map(({ scheme, text }) => `${scheme.toLowerCase()} ${text}`).join('; ')
      : null,
    'its record',
    'any mark or chip',
    notKnown,
  );
}

const BASIS_WORDS: Readonly<Record<string, string>> = {
  OBSERVED: 'seen',
  HOUSED_TOGETHER: 'by who was where',
  TESTED: 'by a test',
  DECLARED: 'as written in the books',
  ASSUMED: 'assumed',
  BY_HAND: 'set by hand',
};

function parentLine(
  snapshot: Snapshot,
  position: number,
  what: 'Mother' | 'Father',
  notKnown: string[],
): SheetLine | null {
  const { codes } = snapshot.animals;
  const columns = what === 'Mother' ? snapshot.dams : snapshot.sires;
  const list = candidatesOf(snapshot, columns, position);
  if (list.length === 0) {
    notKnown.push(`its ${what.toLowerCase()}`);
    return null;
  }
  const rest = unrecordedShare(list);
  if (list.length === 1 && list[0].probability === 1) {
    return { what, finding: codes[list[0].position], basis: BASIS_WORDS[list[0].basis] ?? null };
  }
  const named = list.map(
    ({ position: parent, probability }) =>
      `${codes[parent]} (${Math.floor(probability * 100)} in 100)`,
  );
  if (rest > 0.005)
    named.push(`one nobody recorded (${Math.max(1, Math.floor(rest * 100))} in 100)`);
  notKnown.push(`which of these is its ${what.toLowerCase()}`);
  return {
    what,
    finding: `one of ${named.join(', ')}`,
    basis: BASIS_WORDS[list[0].basis] ?? null,
  };
}

function inbreedingLine(
  { inbreeding, generations }: SheetFacts,
  notKnown: string[],
): SheetLine | null {
  if (generations === 0) {
    notKnown.push('its inbreeding: no parents are recorded');
    return null;
  }
  return {
    what: 'F',
    finding: inbreeding === 0 ? '0 by our books' : inbreeding.toFixed(3),
    basis: `${Number(generations.toFixed(1))} full generations recorded; forebears beyond are taken as unrelated`,
  };
}
