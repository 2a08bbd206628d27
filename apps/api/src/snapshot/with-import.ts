import { evenShares } from '@scutewright/basics';
import {
  absentTraits,
  type Definitions,
  type FileRow,
  type ImportPlan,
} from '@scutewright/commands';
import { candidatesOfClutch, type ParentCandidate } from './findings.js';
import { NO_DAY, NONE, type Snapshot, sharedInt32 } from './snapshot.js';
import { columnsOf } from './with-parents.js';

/** A row of the file and what of it would be written; null: everything. */
interface Entry {
  readonly row: FileRow;
  readonly fields: ReadonlySet<string> | null;
}

/**
 * The program as it would be after an import, as far as inference reads it: animals, sexes, parents, looks, what was told, and
 * the genes and traits that would be made. Ids of records that would be are `file/` and a number. Nothing is written.
 */
export function withImport(
  snapshot: Snapshot,
  plan: ImportPlan,
  made: Definitions,
  trust: number,
): Snapshot {
  const { animals, clutches } = snapshot;
  const entries: Entry[] = [
    ...plan.created.map((row) => ({ row, fields: null })),
    ...plan.changed.map(({ row, changes }) => ({
      row,
      fields: new Set<string>(changes.map(({ field }) => field)),
    })),
  ];
  const codes = [...animals.codes, ...plan.created.map(({ code }) => code)];
  const positionByCode = new Map(codes.map((code, position) => [code, position]));
  const { ofAnimal, count, sires, dams, ids } = clutchesWith(snapshot, entries, positionByCode);
  const added = plan.created.length;
  const days = (column: Int32Array, of: (row: FileRow) => number | undefined) =>
    sharedInt32([...column, ...plan.created.map((row) => of(row) ?? NO_DAY)]);
  const traits = [
    ...snapshot.traits,
    ...made.traits.map(({ name, ...definition }) => ({ id: `file/${name}`, name, definition })),
  ];
  const loci = [
    ...snapshot.loci,
    ...made.loci.map(({ id, name, ...definition }) => ({
      id: `file/${id}`,
      code: id,
      name,
      definition,
    })),
  ];
  return {
    ...snapshot,
    loci,
    traits,
    animals: {
      ...animals,
      count: codes.length,
      ids: [...animals.ids, ...plan.created.map(({ code }) => `file/${code}`)],
      codes,
      names: [...animals.names, ...plan.created.map(({ name }) => name)],
      species: [...animals.species, ...plan.created.map(({ species }) => species ?? '')],
      origins: [...animals.origins, ...Array(added).fill('ACQUIRED')],
      hatched: [...animals.hatched, ...plan.created.map(({ hatched }) => hatched?.text ?? null)],
      hatchedEarliest: days(animals.hatchedEarliest, ({ hatched }) => hatched?.earliest),
      hatchedLatest: days(animals.hatchedLatest, ({ hatched }) => hatched?.latest),
      clutch: ofAnimal,
      positionByCode,
    },
    clutches: {
      ...clutches,
      count,
      ids,
      codes: [...clutches.codes, ...Array(count - clutches.count).fill(null)],
      laid: [...clutches.laid, ...Array(count - clutches.count).fill(null)],
      paternities: [
        ...clutches.paternities,
        ...Array(count - clutches.count).fill('ONE_SIRE' as const),
      ],
      rates: Float64Array.from({ length: count }, (_, c) => clutches.rates[c] ?? Number.NaN),
    },
    sires: columnsOf(sires),
    dams: columnsOf(dams),
    ...recordsWith(snapshot, entries, positionByCode, { traits, loci, trust }),
  };
}

const brings = ({ fields }: Entry, field: string) => fields === null || fields.has(field);

/** Every animal's clutch and every clutch's parents, as writing the rows would leave them. */
function clutchesWith(
  snapshot: Snapshot,
  entries: readonly Entry[],
  positions: ReadonlyMap<string, number>,
) {
  const { animals, clutches } = snapshot;
  const ofAnimal = Int32Array.from({ length: positions.size }, (_, i) => animals.clutch[i] ?? NONE);
  const ids = [...clutches.ids];
  const byCode = new Map(clutches.codes.flatMap((code, c) => (code ? [[code, c] as const] : [])));
  const sires = clutches.ids.map((_, c) => candidatesOfClutch(snapshot.sires, c));
  const dams = clutches.ids.map((_, c) => candidatesOfClutch(snapshot.dams, c));
  const told = new Map<number, number>();
  for (const entry of entries) {
    const { row } = entry;
    const animal = positions.get(row.code) ?? NONE;
    const words = row.sires.length + row.dams.length;
    let clutch = row.clutch ? byCode.get(row.clutch) : ofAnimal[animal];
    if (clutch === undefined || (clutch === NONE && words > 0)) {
      clutch = ids.length;
      ids.push(`file/${clutch}`);
      sires.push([]);
      dams.push([]);
      if (row.clutch) byCode.set(row.clutch, clutch);
    }
    if (clutch === NONE) continue;
    ofAnimal[animal] = clutch;
    // Of clutch mates the one that tells most is taken, as in writing.
    const tells = brings(entry, 'sire') || brings(entry, 'dam');
    if (words === 0 || !tells || words <= (told.get(clutch) ?? 0)) continue;
    told.set(clutch, words);
    sires[clutch] = parentsOf(row.sires, positions);
    dams[clutch] = parentsOf(row.dams, positions);
  }
  return { ofAnimal: sharedInt32(ofAnimal), count: ids.length, ids, sires, dams };
}

function parentsOf(
  named: FileRow['sires'],
  positions: ReadonlyMap<string, number>,
): ParentCandidate[] {
  const shares = evenShares(named.map(({ probability }) => probability)) ?? [];
  return named.flatMap(({ code }, i) => {
    const position = positions.get(code);
    return position === undefined
      ? []
      : [{ position, probability: shares[i], basis: 'DECLARED' as const }];
  });
}

/** Sexes, looks and declarations: what an earlier file said of the same thing is replaced. */
function recordsWith(
  snapshot: Snapshot,
  entries: readonly Entry[],
  positions: ReadonlyMap<string, number>,
  made: Pick<Snapshot, 'traits' | 'loci'> & { readonly trust: number },
): Pick<Snapshot, 'sexRecords' | 'colourChecks' | 'declarations'> {
  const traitAt = new Map(made.traits.map(({ name }, at) => [name, at]));
  const locusAt = new Map(made.loci.map(({ code }, at) => [code, at]));
  const sexRecords = new Map(snapshot.sexRecords);
  const looked = new Set<number>();
  const told = new Set<string>();
  const colourChecks: Snapshot['colourChecks'][number][] = [];
  const declarations: Snapshot['declarations'][number][] = [];
  let next = 0;
  const id = () => `file-${next++}`;
  for (const entry of entries) {
    const { row } = entry;
    const animal = positions.get(row.code) ?? NONE;
    if (row.sex && brings(entry, 'sex')) {
      const sex = row.sex === 'm' ? ('MALE' as const) : ('FEMALE' as const);
      const record = { id: id(), sex, date: null, method: null };
      sexRecords.set(animal, [...(sexRecords.get(animal) ?? []), record]);
    }
    if (row.traits && brings(entry, 'traits')) {
      const of = (names: readonly string[]) => names.flatMap((name) => traitAt.get(name) ?? []);
      const seen = of(row.traits);
      const absent = of(absentTraits(row, traitAt.keys()));
      colourChecks.push({ id: id(), animal, seen, absent, date: null, day: NO_DAY });
      looked.add(animal);
    }
    if (!brings(entry, 'genotype')) continue;
    for (const { locus: code, alleles } of row.genotype) {
      const locus = locusAt.get(code);
      if (locus === undefined) continue;
      declarations.push({ id: id(), animal, locus, alleles, trust: made.trust });
      told.add(`${animal} ${locus}`);
    }
  }
  return {
    sexRecords,
    colourChecks: [
      // A check without a date came from a file.
      ...snapshot.colourChecks.filter(({ animal, day }) => day !== NO_DAY || !looked.has(animal)),
      ...colourChecks,
    ],
    declarations: [
      ...snapshot.declarations.filter(({ animal, locus }) => !told.has(`${animal} ${locus}`)),
      ...declarations,
    ],
  };
}
