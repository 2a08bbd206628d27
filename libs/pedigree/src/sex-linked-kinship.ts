import { type Fault, FaultsError } from '@scutewright/basics';
import { candidatesOf, descentOf, type Lineage } from './lineage.js';
import { sireMoments } from './paternity.js';
import {
  type AnimalKey,
  type Draw,
  drawAt,
  FEMALE,
  idOf,
  MALE,
  type Pedigree,
} from './pedigree.js';

/** More ancestors than this (n^2 doubles: 200 MB) are refused. */
const MOST_ANCESTORS = 5000;

/**
 * Kinship for a gene on the sex chromosome that both sexes have (X, or Z where the females are heterogametic): the probability that
 * a random copy from each of two animals is the same by descent. k x k in the order of `ids`; the
 * diagonal is an animal with itself, 1 for the sex with one copy. F of an animal of the other sex is its parents' kinship; the sex
 * with one copy has none. Species whose sex depends on temperature have no such figure.
 *
 * `heterogametic`: 'm' (XY) or 'f' (ZW). Source: Grossman & Eisen 1989, J. Hered. 80:137-142 (from memory).
 * Tabular: cost ancestors^2. Throws FaultsError naming animals whose sex is needed and not recorded, RangeError on an unknown id or
 * more than 5,000 ancestors.
 */
export function sexLinkedKinship(
  pedigree: Pedigree,
  ids: ArrayLike<AnimalKey>,
  heterogametic: 'm' | 'f',
): Float64Array {
  const { bare, lineage } = descentOf(pedigree, ids);
  const n = lineage.count;
  if (n > MOST_ANCESTORS) throw new RangeError(`${n} ancestors are more than ${MOST_ANCESTORS}.`);
  const single = heterogametic === 'm' ? MALE : FEMALE;
  const sex = lineageSexes(bare, lineage);
  const phi = new Float64Array(n * n);
  /** Parents of i with the share of a copy that comes from each; the single sex takes its copy from the other one. */
  const parents = (i: number): [number, number][] => {
    const { sire, dam, start, member, weight } = lineage;
    if (sire[i] < -1) {
      const m = -2 - sire[i];
      return Array.from({ length: start[m + 1] - start[m] }, (_, e) => [
        member[start[m] + e],
        weight[start[m] + e],
      ]);
    }
    const sides: [number, number][] =
      sex[i] !== single
        ? [
            [sire[i], 0.5],
            [dam[i], 0.5],
          ]
        : [[heterogametic === 'm' ? dam[i] : sire[i], 1]];
    return sides.filter(([parent]) => parent >= 0);
  };
  for (let i = 0; i < n; i++) {
    const from = parents(i);
    for (let j = 0; j < i; j++) {
      let sum = 0;
      for (const [parent, share] of from) sum += share * phi[parent * n + j];
      phi[i * n + j] = sum;
      phi[j * n + i] = sum;
    }
    phi[i * n + i] = selfKinship(i, from);
  }
  const { at } = lineage;
  return Float64Array.from({ length: at.length ** 2 }, (_, e) => {
    const i = at[Math.floor(e / at.length)];
    return phi[i * n + at[e % at.length]];
  });

  function selfKinship(i: number, from: readonly [number, number][]): number {
    if (lineage.sire[i] >= -1) {
      if (sex[i] === single) return 1;
      const s = lineage.sire[i];
      const d = lineage.dam[i];
      return (1 + (s < 0 || d < 0 ? 0 : phi[s * n + d])) / 2;
    }
    const form = (nodes: ArrayLike<number>, p: ArrayLike<number>): number => {
      let sum = 0;
      for (let k = 0; k < nodes.length; k++) {
        for (let l = 0; l < nodes.length; l++) sum += p[k] * p[l] * phi[nodes[k] * n + nodes[l]];
      }
      return sum;
    };
    const draw = drawAt(bare, lineage.node[i]);
    if (!draw) {
      return form(
        from.map(([parent]) => parent),
        from.map(([, share]) => share),
      );
    }
    const { same, stranger, cross } = sireMoments(draw.probabilities, draw.paternity);
    const candidates = candidatesOf(lineage, i);
    const strangerIsSingle = sexOf(draw, sex[i]) === single;
    let self = stranger * (strangerIsSingle ? 1 : 0.5);
    candidates.forEach((k, e) => {
      self += same[e] * phi[k * n + k];
    });
    return self + cross * form(candidates, draw.probabilities);
  }
}

/** Sex of whoever is drawn; `own` where it is the drawn animal itself. */
function sexOf({ side }: Draw, own: number): number {
  return side === 'EGG' ? own : side === 'DAM' ? FEMALE : MALE;
}

/** Sex by local number: as recorded, else as the use as sire or dam shows. */
function lineageSexes(pedigree: Pedigree, lineage: Lineage): Uint8Array {
  const { count, node, sire, dam } = lineage;
  const sex = Uint8Array.from(node, (row) =>
    row < pedigree.size ? (pedigree.sex?.[row] ?? 0) : 0,
  );
  for (let i = 0; i < count; i++) {
    if (node[i] < pedigree.size) {
      if (sire[i] >= 0) sex[sire[i]] ||= MALE;
      if (dam[i] >= 0) sex[dam[i]] ||= FEMALE;
    }
    const draw = drawAt(pedigree, node[i]);
    if (draw && draw.side !== 'EGG') {
      for (const each of candidatesOf(lineage, i)) sex[each] ||= sexOf(draw, 0);
    }
  }
  for (let i = 0; i < count; i++) {
    // The egg that a found animal was has the animal's sex.
    if (pedigree.finds.has(node[i])) for (const egg of candidatesOf(lineage, i)) sex[egg] = sex[i];
  }
  const faults: Fault[] = [];
  for (let i = 0; i < count; i++) {
    if (node[i] >= pedigree.animals || sex[i] !== 0) continue;
    const id = idOf(pedigree, node[i]);
    faults.push({
      code: 'SEX_NEEDED',
      message: `Sex-linked kinship needs the sex of '${id}'.`,
      remedy: 'Record it, or leave the animal out.',
      ids: [id],
    });
  }
  if (faults.length > 0) throw new FaultsError(faults);
  return sex;
}
