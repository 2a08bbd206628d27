import { type Fault, FaultsError } from '@scutewright/basics';
import type { Candidate } from './build-pedigree.js';
import { type DeclaredKin, declareFounderKin } from './founder-kin.js';
import { CycleError, cycleFaults, parentGraph } from './parent-graph.js';
import { type AnimalKey, type Draw, FOUND, idOf, type Pedigree, positionOf } from './pedigree.js';
import { PROBABILITY_REMEDY, wrongProbabilities } from './read-row.js';

export interface Supposition {
  /** New parents; a side that is absent stays as it is, null means not recorded. */
  readonly parents?: readonly {
    readonly id: AnimalKey;
    readonly sire?: AnimalKey | readonly Candidate[] | null;
    readonly dam?: AnimalKey | readonly Candidate[] | null;
  }[];
  readonly founderKin?: readonly DeclaredKin[];
}

/**
 * The pedigree as it would be: a candidate made certain, other candidates, founders declared related. Nothing is
 * written; the given pedigree stays as it is. An uncertain parent belongs to the clutch, so a change of it holds for all its
 * young, except under EACH_OWN_SIRE. An animal of several possible clutches gets the parents given and no others. Throws FaultsError where an animal would be its own ancestor or probabilities are wrong, RangeError on an unknown id.
 * Cost: rows.
 */
export function whatIf(
  pedigree: Pedigree,
  { parents = [], founderKin = [] }: Supposition,
): Pedigree {
  const columns = { sire: pedigree.sire.slice(), dam: pedigree.dam.slice() };
  const draws: Draw[] = [...pedigree.draws];
  const finds = new Map(pedigree.finds);
  for (const change of parents) {
    const row = positionOf(pedigree, change.id);
    if (finds.delete(row)) {
      columns.sire[row] = -1;
      columns.dam[row] = -1;
    }
    for (const side of ['sire', 'dam'] as const) {
      const value = change[side];
      if (value === undefined) continue;
      const column = columns[side];
      const before = column[row];
      const draw = before >= pedigree.size ? draws[before - pedigree.size] : undefined;
      const node = newParent(value, side, draw);
      if (draw && draw.paternity.kind !== 'EACH_OWN_SIRE') {
        for (let i = 0; i < column.length; i++) if (column[i] === before) column[i] = node;
      } else column[row] = node;
    }
  }
  const supposed = { ...pedigree, ...columns, draws, finds };
  checkLoops(supposed);
  return founderKin.length > 0 ? declareFounderKin(supposed, founderKin) : supposed;

  function newParent(
    value: AnimalKey | readonly Candidate[] | null,
    side: 'sire' | 'dam',
    draw: Draw | undefined,
  ): number {
    if (value === null) return -1;
    if (typeof value === 'string' || typeof value === 'number') return positionOf(pedigree, value);
    const wrong = wrongProbabilities(value, `the supposed ${side}`);
    if (wrong) {
      const ids = value.map(({ id }) => id);
      throw new FaultsError([
        { code: 'BAD_PROBABILITY', message: wrong, remedy: PROBABILITY_REMEDY, ids },
      ]);
    }
    draws.push({
      side: side === 'sire' ? 'SIRE' : 'DAM',
      clutch: draw?.clutch ?? null,
      candidates: Int32Array.from(value, ({ id }) => positionOf(pedigree, id)),
      probabilities: Float64Array.from(value, ({ probability }) => probability),
      paternity: draw?.paternity ?? { kind: 'ONE_SIRE' },
    });
    return pedigree.size + draws.length - 1;
  }
}

/**
 * The pedigree with the yard closed for some clutches: what their sires' candidates lack to 1 (all of it where no sire
 * is recorded) is shared evenly among the males that were present. `highest` of a range on the result is the worst
 * case: the closest possible male. Each entry names one young of the clutch. Cost: rows.
 */
export function closeYard(
  pedigree: Pedigree,
  clutches: readonly { readonly young: AnimalKey; readonly males: readonly AnimalKey[] }[],
): Pedigree {
  const faults: Fault[] = [];
  const parents = clutches.map(({ young, males }) => {
    const node = pedigree.sire[positionOf(pedigree, young)];
    if (node === FOUND) {
      faults.push({
        code: 'SEVERAL_CLUTCHES',
        message: `'${young}' may be of several clutches.`,
        remedy: 'Name a young that is surely of the clutch meant.',
        ids: [String(young)],
      });
      return { id: young };
    }
    const draw = node >= pedigree.size ? pedigree.draws[node - pedigree.size] : undefined;
    const share = new Map<number, number>();
    draw?.candidates.forEach((row, k) => {
      share.set(row, draw.probabilities[k]);
    });
    const rest = node >= 0 && !draw ? 0 : 1 - [...share.values()].reduce((sum, p) => sum + p, 0);
    if (rest <= 1e-12) {
      faults.push({
        code: 'NOTHING_UNRECORDED',
        message: `Every possible sire of '${young}' is recorded.`,
        remedy: 'Close the yard only for clutches with a male nobody recorded.',
        ids: [String(young)],
      });
    }
    for (const male of males) {
      const row = positionOf(pedigree, male);
      share.set(row, (share.get(row) ?? 0) + rest / males.length);
    }
    const sire = [...share].map(([row, probability]) => ({ id: idOf(pedigree, row), probability }));
    return { id: young, sire };
  });
  if (faults.length > 0) throw new FaultsError(faults);
  return whatIf(pedigree, { parents });
}

function checkLoops(pedigree: Pedigree): void {
  try {
    parentGraph(pedigree);
  } catch (error) {
    if (!(error instanceof CycleError)) throw error;
    throw new FaultsError(
      cycleFaults(error, (node) => (node < pedigree.animals ? idOf(pedigree, node) : null)),
    );
  }
}
