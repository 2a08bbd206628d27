import { type Fault, FaultsError } from '@scutewright/basics';
import { CycleError, cycleFaults, parentGraph } from './parent-graph.js';
import type { Pedigree } from './pedigree.js';

/**
 * A pedigree with certain parents from two columns of row positions, -1 where a parent is not
 * recorded; rows in any order. The columns are kept, not copied, and may be shared between threads. An
 * animal's key is its row position. Throws FaultsError (parents out of range, own parent, a loop). Cost: linear.
 */
export function pedigreeFromColumns(columns: {
  readonly sire: Int32Array;
  readonly dam: Int32Array;
}): Pedigree {
  const { sire, dam } = columns;
  const size = sire.length;
  const faults: Fault[] = [];
  if (dam.length !== size) {
    faults.push({
      code: 'COLUMNS_DIFFER',
      message: `The sire column has ${size} rows, the dam column ${dam.length}.`,
      remedy: 'Give both columns one entry per animal.',
      ids: [],
    });
    throw new FaultsError(faults);
  }
  for (let i = 0; i < size; i++) {
    const s = sire[i];
    const d = dam[i];
    if (s < -1 || s >= size || d < -1 || d >= size) {
      faults.push({
        code: 'UNKNOWN_PARENT',
        message: `Row ${i} names sire ${s} and dam ${d}; rows are 0 to ${size - 1}.`,
        remedy: 'Name a row of the columns, or -1 for a parent that is not recorded.',
        ids: [String(i)],
      });
    }
    if (s >= 0 && s === d) {
      faults.push({
        code: 'SIRE_AND_DAM',
        message: `Row ${i} has row ${s} as sire and as dam.`,
        remedy: 'Correct one of the two.',
        ids: [String(i), String(s)],
      });
    }
  }
  if (faults.length > 0) throw new FaultsError(faults);
  const pedigree: Pedigree = {
    size,
    animals: size,
    ids: null,
    positions: null,
    sire,
    dam,
    sex: null,
    hatched: null,
    draws: [],
    finds: new Map(),
    founderKin: [],
  };
  try {
    parentGraph(pedigree);
  } catch (error) {
    if (!(error instanceof CycleError)) throw error;
    throw new FaultsError(cycleFaults(error, String));
  }
  return pedigree;
}
