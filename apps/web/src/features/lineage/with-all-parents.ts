import type { LineageAnswer } from './lineage-documents.js';

/**
 * The animals of a lineage whose recorded parents all stand in it: the one asked for and its
 * ancestors nearer than `generationsBack`. Of others a parent may be recorded and left out, so
 * what their parents do not add up to says nothing.
 */
export function withAllParents(
  { animal, pairs }: Pick<LineageAnswer, 'animal' | 'pairs'>,
  generationsBack: number,
): ReadonlySet<string> {
  const whole = new Set<string>();
  let generation = new Set([animal.id]);
  for (let back = 0; back < generationsBack && generation.size > 0; back++) {
    for (const id of generation) whole.add(id);
    const parents = pairs
      .filter(({ young }) => young.some(({ animalId }) => generation.has(animalId)))
      .flatMap((pair) => pair.parents.map(({ animalId }) => animalId));
    generation = new Set(parents.filter((id) => !whole.has(id)));
  }
  return whole;
}
