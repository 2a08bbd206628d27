import type { Headings } from './check-links.js';
import {
  type ClutchParents,
  parentsOf,
  type Side,
  sameParents,
  writeParents,
} from './clutch-parents.js';
import type { FileFaults } from './file-fault.js';
import type { FileRow } from './program-row.js';

/**
 * Adds a fault where clutch mates have different parents: they came from one laying, whose parents stand once. A
 * mate without parents gets those of its clutch (`agreed`); that is told, and is no fault.
 */
export function checkClutches(
  clutches: ReadonlyMap<string, readonly FileRow[]>,
  side: Side,
  agreed: ReadonlyMap<string, ClutchParents>,
  headings: Headings,
  faults: FileFaults,
): void {
  const column = headings[side];
  const who = side === 'sire' ? 'father' : 'mother';
  for (const [clutch, mates] of clutches) {
    const told = agreed.get(clutch);
    if (!told) continue;
    for (const row of mates) {
      const parents = parentsOf(row, side);
      if (sameParents(parents, told.parents)) continue;
      const isEmpty = parents.length === 0;
      const text = writeParents(told.parents);
      faults.add({
        code: isEmpty ? 'CLUTCH_PARENT_EMPTY' : 'CLUTCH_PARENTS_DIFFER',
        isFatal: !isEmpty,
        line: row.line,
        column,
        value: writeParents(parents),
        message: isEmpty
          ? `'${row.code}' names no ${who}; it gets ${text} from ${told.from} of clutch '${clutch}'.`
          : `'${row.code}' has another ${who} than ${told.from} (${text}) of the same clutch '${clutch}'.`,
        remedy: isEmpty
          ? 'Nothing to do if that is right; else put it into a clutch of its own.'
          : 'Give all young of a clutch the same parents, or put them into different clutches.',
      });
    }
  }
}
