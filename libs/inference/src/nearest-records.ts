import type { Program } from './program.js';

/** Records, those of the nearest animals first: its own, then of parents, young and mates, step by step. */
export function byNearness(program: Program, animal: number): number[] {
  const distance = distances(program, animal);
  const far = (record: number): number => {
    const entry = program.records[record];
    if (entry.kind !== 'count') return distance[entry.animal];
    const { sires, dams } = program.clutches[entry.clutches[0]];
    return 1 + Math.min(...[...sires, ...dams].map((parent) => distance[parent]));
  };
  return [...program.records.keys()].sort((a, b) => far(a) - far(b));
}

/** Steps from an animal over parents and young. */
function distances(program: Program, start: number): Int32Array {
  const n = program.sex.length;
  const near: number[][] = Array.from({ length: n }, () => []);
  const tie = (young: number, parents: Iterable<number>): void => {
    for (const parent of parents) {
      if (parent < 0) continue;
      near[young].push(parent);
      near[parent].push(young);
    }
  };
  for (let animal = 0; animal < n; animal++) {
    const clutch = program.clutches[program.clutch[animal]];
    tie(
      animal,
      clutch ? [...clutch.sires, ...clutch.dams] : [program.sire[animal], program.dam[animal]],
    );
  }
  const distance = new Int32Array(n).fill(n);
  distance[start] = 0;
  const queue = [start];
  for (const animal of queue) {
    for (const next of near[animal]) {
      if (distance[next] < n) continue;
      distance[next] = distance[animal] + 1;
      queue.push(next);
    }
  }
  return distance;
}
