import { nearest } from '@scutewright/basics';
import type { Paternity } from './paternity.js';

/** An animal by its id, or by its row position in a pedigree built from columns. */
export type AnimalKey = string | number;

/**
 * A checked pedigree in columns. Plain data throughout: it can be posted to a worker thread, and
 * its columns may lie on SharedArrayBuffers. Rows keep the caller's order.
 */
export interface Pedigree {
  /** Number of rows: the animals, then the eggs of `finds`. */
  readonly size: number;
  /** Number of animals. Eggs have no id and stand in no answer. */
  readonly animals: number;
  /** Ids by animal; null where the row position is the id. */
  readonly ids: readonly string[] | null;
  readonly positions: ReadonlyMap<string, number> | null;
  /** By row: a row position, -1 not recorded, `size + k` for the uncertain parent `draws[k]`, or FOUND. */
  readonly sire: Int32Array;
  readonly dam: Int32Array;
  /** By animal: 0 not known, 1 male, 2 female; null where no row gives a sex. */
  readonly sex: Uint8Array | null;
  /** By animal the first and last possible day of hatching (days since 1970-01-01), NO_DAY where not known; null where no row has one. */
  readonly hatched: { readonly earliest: Int32Array; readonly latest: Int32Array } | null;
  /** The uncertain parents, one entry a clutch and side. */
  readonly draws: readonly Draw[];
  /**
   * Animals that may be of several clutches, by row: each is one of the eggs named as candidates, drawn once and on its own (animals
   * found together too: how many of them are of which clutch is not recorded). An egg is a
   * row of its own with the parents of its clutch, so dam and sire go together; what the probabilities lack to 1 is an
   * egg of parents that nobody recorded.
   */
  readonly finds: ReadonlyMap<number, Draw>;
  /** Declared kinship between founders; without an entry founders are unrelated. */
  readonly founderKin: readonly FounderKin[];
}

/** In the sire and dam columns: the parents follow from `finds`. */
export const FOUND = -2;
export const NO_DAY = -0x80000000;
export const MALE = 1;
export const FEMALE = 2;

/** One uncertain parent of one clutch (or of one animal without clutch), or the egg that a found animal hatched from. */
export interface Draw {
  readonly side: 'SIRE' | 'DAM' | 'EGG';
  /** The clutch as the rows name it, or null for an animal that is a clutch of its own. */
  readonly clutch: string | null;
  /** Row positions; may be empty: one animal nobody recorded, shared by the clutch. */
  readonly candidates: Int32Array;
  /** As long as `candidates`; sums to at most 1, the rest is an unrelated animal nobody recorded. */
  readonly probabilities: Float64Array;
  readonly paternity: Paternity;
}

export interface FounderKin {
  /** Row positions of two founders. */
  readonly a: number;
  readonly b: number;
  /** a_ij = 2 x kinship: 1/2 for full sibs, 1/4 for half sibs. */
  readonly relatedness: number;
}

/** Row position of a key. Throws RangeError that names near ids when there is no such animal. */
export function positionOf(pedigree: Pedigree, key: AnimalKey): number {
  if (typeof key === 'number') {
    if (Number.isInteger(key) && key >= 0 && key < pedigree.animals) return key;
    throw new RangeError(`There is no row ${key}; rows are 0 to ${pedigree.animals - 1}.`);
  }
  const position = pedigree.positions?.get(key);
  if (position !== undefined) return position;
  const near = nearest(key, pedigree.ids ?? []);
  const hint = near.length > 0 ? `; did you mean ${near.map((id) => `'${id}'`).join(', ')}?` : '.';
  throw new RangeError(`There is no animal '${key}'${hint}`);
}

/** Row positions of several keys. */
export function rowsOf(pedigree: Pedigree, keys: ArrayLike<AnimalKey>): Int32Array {
  return Int32Array.from({ length: keys.length }, (_, k) => positionOf(pedigree, keys[k]));
}

/** The draw that stands at a node: of an uncertain parent, or of a found animal; undefined for all others. */
export function drawAt({ size, draws, finds }: Pedigree, node: number): Draw | undefined {
  return node < size ? finds.get(node) : draws[node - size];
}

/** The id of a row as text; the position itself where rows have no ids. */
export function idOf(pedigree: Pedigree, position: number): string {
  return pedigree.ids?.[position] ?? String(position);
}
