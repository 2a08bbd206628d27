import type { Program } from './program.js';

/**
 * Marks every animal that may be an ancestor of a marked one; answers a new mask. Cost: animals plus candidates.
 */
export function closeUpwards(program: Program, marked: Iterable<number>): Uint8Array {
  const include = new Uint8Array(program.sex.length);
  const clutchDone = new Uint8Array(program.clutches.length);
  const clutchesOf = new Map<number, Int32Array>();
  const together = new Map<number, Int32Array>();
  for (const find of program.finds) {
    for (const animal of find.animals) {
      clutchesOf.set(animal, find.clutches);
      if (find.counts) together.set(animal, find.animals);
    }
  }
  const stack: number[] = [];
  const visit = (animal: number): void => {
    if (animal < 0 || include[animal]) return;
    include[animal] = 1;
    stack.push(animal);
  };
  const visitClutch = (clutch: number): void => {
    if (clutchDone[clutch]) return;
    clutchDone[clutch] = 1;
    program.clutches[clutch].sires.forEach(visit);
    program.clutches[clutch].dams.forEach(visit);
  };
  for (const animal of marked) visit(animal);
  for (let animal = stack.pop(); animal !== undefined; animal = stack.pop()) {
    together.get(animal)?.forEach(visit);
    const possible = clutchesOf.get(animal);
    if (possible) possible.forEach(visitClutch);
    else if (program.clutch[animal] >= 0) visitClutch(program.clutch[animal]);
    else {
      visit(program.sire[animal]);
      visit(program.dam[animal]);
    }
  }
  return include;
}

/** Adds the clutch mates of marked animals: they bring no parents that are not there already. Changes `include`. */
export function addMates(program: Program, include: Uint8Array): Uint8Array {
  const inFind = new Set(program.finds.flatMap(({ animals }) => [...animals]));
  const used = new Uint8Array(program.clutches.length);
  for (const [animal, clutch] of program.clutch.entries()) {
    if (include[animal] && clutch >= 0 && !inFind.has(animal)) used[clutch] = 1;
  }
  for (const [animal, clutch] of program.clutch.entries()) {
    if (clutch >= 0 && used[clutch] && !inFind.has(animal)) include[animal] = 1;
  }
  return include;
}

/** Animals that records speak of, those of counted clutches' parents included. */
export function recordedAnimals(program: Program): number[] {
  const marked: number[] = [];
  for (const record of program.records) {
    if (record.kind !== 'count') {
      marked.push(record.animal);
      continue;
    }
    for (const clutch of record.clutches) {
      marked.push(...program.clutches[clutch].sires, ...program.clutches[clutch].dams);
    }
  }
  return marked;
}
