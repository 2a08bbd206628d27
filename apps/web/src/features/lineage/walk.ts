import type { LineageAnswer } from './lineage-documents.js';

/**
 * Where an arrow key leads in the chart: right to the likeliest parent, left to a young, up and
 * down within a generation, Home and End to its ends. Null where there is nobody, or for any other key.
 */
export function nextInWalk(
  { animals, pairs }: Pick<LineageAnswer, 'animals' | 'pairs'>,
  from: string,
  key: string,
): string | null {
  const here = animals.find(({ animal }) => animal.id === from);
  if (!here) return null;
  if (key === 'ArrowRight') {
    const parents = pairs
      .filter(({ young }) => young.some(({ animalId }) => animalId === from))
      .flatMap((pair) => pair.parents);
    return parents.toSorted((a, b) => b.probability - a.probability)[0]?.animalId ?? null;
  }
  if (key === 'ArrowLeft') {
    const pair = pairs.find(({ parents }) => parents.some(({ animalId }) => animalId === from));
    return pair?.young[0]?.animalId ?? null;
  }
  if (key === 'Home' || key === 'End') {
    const row = animals
      .filter(({ generation }) => generation === here.generation)
      .toSorted((a, b) => a.x - b.x);
    return row.at(key === 'Home' ? 0 : -1)?.animal.id ?? null;
  }
  if (key !== 'ArrowUp' && key !== 'ArrowDown') return null;
  const along = key === 'ArrowDown' ? 1 : -1;
  const beyond = animals
    .filter(({ generation, x }) => generation === here.generation && (x - here.x) * along > 0)
    .toSorted((a, b) => (a.x - b.x) * along);
  return beyond[0]?.animal.id ?? null;
}
