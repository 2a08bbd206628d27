import type { PairFigure } from '../../compute/kin-task.js';
import { sexOf } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { kinWords, nearerWords } from '../lineage/kin-words.js';
import type { SalePair } from './sales.types.js';

/** Every two of the animals, in words and as figures. Nothing recorded behind one: nobody can say, which is not 'unrelated'. */
export function salePairs(
  snapshot: Snapshot,
  figures: readonly PairFigure[],
  generations: Float64Array,
  ours: number,
): SalePair[] {
  const { ids, codes } = snapshot.animals;
  return figures.map((figure): SalePair => {
    const { a, b, relatedness, lowest, highest, ancestors } = figure;
    const bare = [a, b].filter((position) => generations[position] === 0);
    const isKnown = highest > 0 || bare.length === 0;
    const [one, other] = [a, b].map((position) => sexOf(snapshot, position));
    return {
      a: ids[a],
      b: ids[b],
      relatedness,
      lowest,
      highest,
      worst: figure.worst,
      youngF: relatedness / 2,
      isKnown,
      canBreed: one === 'UNKNOWN' || other === 'UNKNOWN' || one !== other,
      words: isKnown
        ? `${kinWords(snapshot, figure)}${nearerWords(figure)}`
        : `cannot say: no parents of ${bare.map((position) => codes[position]).join(' and ')} recorded`,
      through: ancestors
        .filter(({ row }) => row < ours)
        .map(({ row, contribution }) => ({ animal: new Animal(snapshot, row), contribution })),
    };
  });
}
