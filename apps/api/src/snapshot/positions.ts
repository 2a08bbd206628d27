import { invariant } from '@scutewright/basics';

/** The position of a row by its id. */
export type Positions = ReadonlyMap<string, number>;

export function positionsOf(
  rows: readonly (readonly [id: string, ...rest: unknown[]])[],
): Positions {
  return new Map(rows.map(([id], position) => [id, position]));
}

export function at(positions: Positions, id: string): number {
  const position = positions.get(id);
  invariant(position !== undefined, `row ${id} is read in the same transaction`);
  return position;
}
