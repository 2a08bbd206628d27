import { type Draw, FOUND, type Paternity, type Pedigree } from '@scutewright/pedigree';
import { foundAnimals, sexOf } from '../snapshot/findings.js';
import { PerSnapshot } from '../snapshot/per-snapshot.js';
import { type CandidateColumns, NONE, type Snapshot } from '../snapshot/snapshot.js';
import type { PedigreeInput } from './kept-pedigree.js';
import { ownMales } from './own-males.js';

/** The parts of a snapshot that its pedigree follows from, and so everything that follows from the pedigree alone. */
export const pedigreeParts = ({ animals, clutches, sires, dams, sexRecords, season }: Snapshot) => [
  animals,
  clutches,
  sires,
  dams,
  sexRecords,
  season.possibleClutches,
];

const pedigrees = new PerSnapshot<PedigreeInput>(pedigreeParts);
let made = 0;

/**
 * The snapshot's animals as the kernels take them, once for each state of the pedigree, under a key of its own. Row positions are the
 * snapshot's own; the eggs of animals that may be of several clutches stand after them. The records were checked when they were written, so they are not checked again.
 */
export function pedigreeOf(snapshot: Snapshot): PedigreeInput {
  return pedigrees.of(snapshot, () => ({ key: `pedigree ${++made}`, pedigree: build(snapshot) }));
}

const worstParts = (snapshot: Snapshot) => [
  ...pedigreeParts(snapshot),
  snapshot.season,
  snapshot.speciesSettings,
];
const malesOf = new PerSnapshot<{ readonly males: ReturnType<typeof ownMales> }>(worstParts);
const worstPedigrees = new PerSnapshot<PedigreeInput | null>(worstParts);

const ownMalesOf = (snapshot: Snapshot) =>
  malesOf.of(snapshot, () => ({ males: ownMales(snapshot) })).males;

/** Whether the worst case can be told: false where too many of the program's own males are possible fathers. */
export const isWorstTold = (snapshot: Snapshot): boolean => ownMalesOf(snapshot) !== null;

/**
 * As `pedigreeOf`, for the worst case: the male nobody recorded may be any of the program's own (see `ownMales`), all that are possible
 * alike. Only the highest of a range over it means anything. Null where no clutch may have such a father, or it cannot be told.
 */
export function worstPedigreeOf(snapshot: Snapshot): PedigreeInput | null {
  return worstPedigrees.of(snapshot, () => {
    const males = ownMalesOf(snapshot);
    if (!males || males.size === 0) return null;
    return { key: `pedigree ${++made}`, pedigree: build(snapshot, males) };
  });
}

function build(
  snapshot: Snapshot,
  males: ReadonlyMap<number, readonly number[]> = new Map(),
): Pedigree {
  const { animals, clutches } = snapshot;
  const draws: Draw[] = [];
  const finds = new Map<number, Draw>();
  let size = animals.count;
  const found = foundAnimals(snapshot);
  for (const [animal, possible] of found) {
    finds.set(animal, {
      side: 'EGG',
      clutch: null,
      candidates: Int32Array.from(possible, (_, k) => size + k),
      probabilities: Float64Array.from(possible, ({ probability }) => probability),
      paternity: { kind: 'ONE_SIRE' },
    });
    size += possible.length;
  }
  /** By clutch: a certain parent's position, or size + its draw. */
  const parentOf = (columns: CandidateColumns, side: 'SIRE' | 'DAM'): Int32Array => {
    const parents = new Int32Array(clutches.count);
    for (let c = 0; c < clutches.count; c++) {
      const [start, end] = [columns.from[c], columns.from[c + 1]];
      if (end === start + 1 && columns.probability[start] === 1) {
        parents[c] = columns.animal[start];
        continue;
      }
      const recorded = columns.animal.slice(start, end);
      const own = side === 'SIRE' ? males.get(c) : undefined;
      const candidates = own ? Int32Array.from(new Set([...recorded, ...own])) : recorded;
      parents[c] = size + draws.length;
      draws.push({
        side,
        clutch: clutches.codes[c] ?? clutches.ids[c],
        candidates,
        probabilities: own
          ? new Float64Array(candidates.length).fill(1 / candidates.length)
          : columns.probability.slice(start, end),
        paternity: side === 'SIRE' ? paternityOf(snapshot, c) : { kind: 'ONE_SIRE' },
      });
    }
    return parents;
  };
  const sires = parentOf(snapshot.sires, 'SIRE');
  const dams = parentOf(snapshot.dams, 'DAM');
  const sire = new Int32Array(new SharedArrayBuffer(size * 4));
  const dam = new Int32Array(new SharedArrayBuffer(size * 4));
  const sex = new Uint8Array(new SharedArrayBuffer(size));
  for (let i = 0; i < animals.count; i++) {
    const clutch = animals.clutch[i];
    sire[i] = clutch === NONE ? -1 : sires[clutch];
    dam[i] = clutch === NONE ? -1 : dams[clutch];
    sex[i] = { UNKNOWN: 0, MALE: 1, FEMALE: 2 }[sexOf(snapshot, i)];
  }
  let egg = animals.count;
  for (const [animal, possible] of found) {
    sire[animal] = FOUND;
    dam[animal] = FOUND;
    for (const { clutch } of possible) {
      sire[egg] = sires[clutch];
      dam[egg] = dams[clutch];
      egg++;
    }
  }
  return {
    size,
    animals: animals.count,
    ids: null,
    positions: null,
    sire,
    dam,
    sex,
    hatched: { earliest: animals.hatchedEarliest, latest: animals.hatchedLatest },
    draws,
    finds,
    founderKin: [],
  };
}

function paternityOf(snapshot: Snapshot, clutch: number): Paternity {
  const kind = snapshot.clutches.paternities[clutch];
  const rate = snapshot.clutches.rates[clutch];
  if (kind === 'MIXED' || kind === 'TWO_SIRES')
    return { kind, rate: Number.isNaN(rate) ? 0 : rate };
  return { kind };
}
