import { createHash } from 'node:crypto';
import { evenShares } from '@scutewright/basics';
import type { BuyerAnimal } from '@scutewright/commands';
import { UserError } from '../../graphql/errors.js';
import {
  type CandidateColumns,
  NO_DAY,
  NONE,
  type Snapshot,
  sharedFloat64,
  sharedInt32,
} from '../../snapshot/snapshot.js';

/** Our books with the buyer's animals behind them, for one question: nothing is written. */
export interface WithBuyer {
  readonly snapshot: Snapshot;
  /** Positions of the buyer's animals that are asked about, ours among them. */
  readonly asked: readonly number[];
  /** From this position on, animals are the buyer's. */
  readonly ours: number;
}

type Parents = NonNullable<BuyerAnimal['sires']>;

/**
 * The snapshot with the buyer's animals appended. A code that is only named as a parent becomes an animal too, since two young of it
 * are kin. Throws UserError on a code named twice, an animal of ours that there is not, and an animal that is its own forebear.
 */
export function withBuyer(snapshot: Snapshot, given: readonly BuyerAnimal[]): WithBuyer {
  const { animals } = snapshot;
  const ours = animals.count;
  if (given.length === 0) return { snapshot, asked: [], ours };
  const rows = withNamedParents(given);
  const at = new Map<string, number>();
  let next = ours;
  for (const [i, { code, ourAnimalId }] of rows.entries()) {
    if (at.has(code)) refuse(`The buyer's ${code} is named twice.`, `buyer.${i}.code`, code);
    at.set(code, ourAnimalId ? ourPosition(snapshot, ourAnimalId, `buyer.${i}`) : next++);
  }
  const theirs = rows.filter(({ ourAnimalId }) => !ourAnimalId);
  refuseLoops(theirs, at, ours);
  const clutches = clutchesOf(theirs);
  const place = ({ code, animalId }: Parents[number]) =>
    animalId ? ourPosition(snapshot, animalId, 'buyer') : (at.get(code ?? '') ?? NONE);
  const key = createHash('sha256').update(JSON.stringify(given)).digest('hex').slice(0, 24);
  const none = theirs.map(() => null);
  const noDay = theirs.map(() => NO_DAY);
  return {
    ours,
    asked: rows.flatMap(({ code, isAsked }) => (isAsked ? [at.get(code) ?? NONE] : [])),
    snapshot: {
      ...snapshot,
      // Kernels keep a pedigree by program and revision: this one is another.
      programId: `${snapshot.programId} with ${key}`,
      animals: {
        ...animals,
        count: ours + theirs.length,
        ids: [...animals.ids, ...theirs.map(({ code }) => `buyer ${code}`)],
        codes: [...animals.codes, ...theirs.map(({ code }) => code)],
        names: [...animals.names, ...none],
        species: [...animals.species, ...theirs.map(() => 'not told')],
        origins: [...animals.origins, ...theirs.map(() => 'ANCESTOR_ONLY' as const)],
        hatched: [...animals.hatched, ...none],
        hatchedEarliest: sharedInt32([...animals.hatchedEarliest, ...noDay]),
        hatchedLatest: sharedInt32([...animals.hatchedLatest, ...noDay]),
        clutch: sharedInt32([
          ...animals.clutch,
          ...clutches.of.map((own) => (own === NONE ? NONE : snapshot.clutches.count + own)),
        ]),
      },
      clutches: {
        ...snapshot.clutches,
        count: snapshot.clutches.count + clutches.rows.length,
        ids: [...snapshot.clutches.ids, ...clutches.rows.map((_, i) => `buyer clutch ${i}`)],
        codes: [...snapshot.clutches.codes, ...clutches.rows.map(() => null)],
        laid: [...snapshot.clutches.laid, ...clutches.rows.map(() => null)],
        paternities: [
          ...snapshot.clutches.paternities,
          ...clutches.rows.map(() => 'ONE_SIRE' as const),
        ],
        rates: sharedFloat64([...snapshot.clutches.rates, ...clutches.rows.map(() => Number.NaN)]),
      },
      sires: appended(
        snapshot.sires,
        clutches.rows.map(({ sires }) => sires ?? []),
        place,
      ),
      dams: appended(
        snapshot.dams,
        clutches.rows.map(({ dams }) => dams ?? []),
        place,
      ),
      sclMm: sharedFloat64([...snapshot.sclMm, ...theirs.map(() => Number.NaN)]),
      sexRecords: new Map([
        ...snapshot.sexRecords,
        ...theirs.flatMap(({ sex }, i) =>
          sex && sex !== 'UNKNOWN'
            ? [[ours + i, [{ id: '', sex, date: null, method: 'the buyer says so' }]] as const]
            : [],
        ),
      ]),
    },
  };
}

function withNamedParents(given: readonly BuyerAnimal[]): BuyerAnimal[] {
  const named = new Set(given.map(({ code }) => code));
  const rows = [...given];
  for (const { sires = [], dams = [] } of given) {
    for (const [list, sex] of [
      [sires, 'MALE'],
      [dams, 'FEMALE'],
    ] as const) {
      for (const { code } of list) {
        if (code === undefined || named.has(code)) continue;
        named.add(code);
        rows.push({ code, sex });
      }
    }
  }
  return rows;
}

function ourPosition(snapshot: Snapshot, id: string, place: string): number {
  const position = snapshot.animals.positionById.get(id);
  if (position === undefined) refuse('There is no such animal in our books.', place, id);
  return position ?? NONE;
}

/** Young of one named clutch share their parents; every other animal with parents is a clutch of its own. */
function clutchesOf(rows: readonly BuyerAnimal[]) {
  const found: BuyerAnimal[] = [];
  const byName = new Map<string, number>();
  const of = rows.map((row) => {
    if (!row.sires?.length && !row.dams?.length) return NONE;
    const known = row.clutch ? byName.get(row.clutch) : undefined;
    if (known !== undefined) return known;
    if (row.clutch) byName.set(row.clutch, found.length);
    found.push(row);
    return found.length - 1;
  });
  return { rows: found, of };
}

function appended(
  columns: CandidateColumns,
  lists: readonly Parents[],
  place: (parent: Parents[number]) => number,
): CandidateColumns {
  const from = [...columns.from];
  const animal = [...columns.animal];
  const probability = [...columns.probability];
  for (const list of lists) {
    const shares = evenShares(list.map((each) => each.probability));
    if (!shares) refuse('The possible parents come to more than 1.', 'buyer', '');
    const weighed = list
      .map((each, i) => ({ at: place(each), p: shares[i] }))
      .sort((a, b) => b.p - a.p);
    for (const { at, p } of weighed) {
      animal.push(at);
      probability.push(p);
    }
    from.push(animal.length);
  }
  return {
    from: sharedInt32(from),
    animal: sharedInt32(animal),
    probability: sharedFloat64(probability),
    basis: [
      ...columns.basis,
      ...Array.from({ length: animal.length - columns.animal.length }, () => 'DECLARED'),
    ],
  };
}

/** Our animals have no parents among the buyer's, so a loop lies among the buyer's alone. */
function refuseLoops(
  rows: readonly BuyerAnimal[],
  at: ReadonlyMap<string, number>,
  ours: number,
): void {
  const state = new Map<string, 'open' | 'done'>();
  const byCode = new Map(rows.map((row) => [row.code, row]));
  for (const { code } of rows) {
    const path: { code: string; left: string[] }[] = [];
    const enter = (one: string) => {
      if (state.get(one) === 'open')
        refuse(`The buyer's ${one} would be its own forebear.`, 'buyer', one);
      if (state.has(one) || (at.get(one) ?? NONE) < ours) return;
      state.set(one, 'open');
      const row = byCode.get(one);
      const parents = [...(row?.sires ?? []), ...(row?.dams ?? [])];
      path.push({ code: one, left: parents.flatMap((each) => each.code ?? []) });
    };
    enter(code);
    for (let top = path.at(-1); top; top = path.at(-1)) {
      const parent = top.left.pop();
      if (parent !== undefined) enter(parent);
      else {
        state.set(top.code, 'done');
        path.pop();
      }
    }
  }
}

function refuse(message: string, place: string, thing: string): never {
  throw new UserError('BAD_USER_INPUT', message, {
    place,
    thing,
    remedy: "Correct the buyer's animals and ask again; nothing was written.",
  });
}
