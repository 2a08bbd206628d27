import { notFound } from '../../graphql/errors.js';
import type { Snapshot } from '../../snapshot/snapshot.js';

/** Ids become positions once, at the border. Throws NOT_FOUND with the place of the first unknown one. */
export function positionsOf(snapshot: Snapshot, ids: readonly string[], place: string): number[] {
  return ids.map((id, i) => positionOf(snapshot, id, `${place}.${i}`));
}

export function positionOf(snapshot: Snapshot, id: string, place: string): number {
  const position = snapshot.animals.positionById.get(id);
  if (position === undefined)
    throw notFound('such animal', place, 'Look it up in the register again.');
  return position;
}
