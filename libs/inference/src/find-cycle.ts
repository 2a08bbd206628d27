import type { Program } from './program.js';

/** Animals that would be their own ancestors if every candidate were a parent, child first; null when there are none. */
export function findCycle(program: Program): number[] | null {
  const n = program.sex.length;
  const clutchesOf = new Map<number, Int32Array>();
  for (const find of program.finds) {
    for (const animal of find.animals) clutchesOf.set(animal, find.clutches);
  }
  const parentsOf = (animal: number): number[] => {
    const clutches =
      clutchesOf.get(animal) ?? (program.clutch[animal] >= 0 ? [program.clutch[animal]] : null);
    if (!clutches) return [program.sire[animal], program.dam[animal]].filter((p) => p >= 0);
    return Array.from(clutches).flatMap((c) => [
      ...program.clutches[c].sires,
      ...program.clutches[c].dams,
    ]);
  };
  const state = new Uint8Array(n); // 0 not seen, 1 on the path, 2 done
  for (let start = 0; start < n; start++) {
    if (state[start]) continue;
    const path = [start];
    const open = [parentsOf(start)];
    state[start] = 1;
    while (path.length > 0) {
      const next = open[open.length - 1].pop();
      if (next === undefined) {
        state[path.pop()!] = 2;
        open.pop();
      } else if (state[next] === 1) {
        return [...path.slice(path.indexOf(next)), next];
      } else if (state[next] === 0) {
        state[next] = 1;
        path.push(next);
        open.push(parentsOf(next));
      }
    }
  }
  return null;
}
