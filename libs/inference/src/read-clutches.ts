import type { Clutch, Find, Paternity } from './program.js';
import type { CandidateInput, ClutchInput, FindInput } from './program-input.js';
import type { AnimalColumns, Reader } from './read-program.js';

function readCandidates(
  reader: Reader,
  certain: string | null | undefined,
  listed: readonly CandidateInput[] | undefined,
  where: string,
): { animals: Int32Array; weights: Float64Array } {
  const list = listed ?? (certain ? [{ id: certain, probability: 1 }] : []);
  const animals = Int32Array.from(list, ({ id }) => reader.animal(id, where));
  const weights = Float64Array.from(list, ({ probability }) => reader.chance(probability, where));
  const sum = weights.reduce((a, b) => a + b, 0);
  if (sum > 1 + 1e-9) {
    reader.fault(
      'OVER_ONE',
      `${where} has candidates of together ${sum}.`,
      'Let them sum to at most 1.',
      [],
    );
  }
  if (new Set(animals).size < animals.length) {
    reader.fault('DUPLICATE_ANIMAL', `${where} names a candidate twice.`, 'Name each once.', []);
  }
  return { animals, weights };
}

/** A clutch by positions; its faults are the reader's. */
export function readClutch(reader: Reader, clutch: ClutchInput): Clutch {
  const where = `The clutch '${clutch.id}'`;
  const sires = readCandidates(reader, clutch.sire, clutch.sires, where);
  const dams = readCandidates(reader, clutch.dam, clutch.dams, where);
  return {
    sires: sires.animals,
    sireWeights: sires.weights,
    dams: dams.animals,
    damWeights: dams.weights,
    paternity: readPaternity(reader, clutch.paternity, where),
  };
}

function readPaternity(
  reader: Reader,
  paternity: ClutchInput['paternity'],
  where: string,
): Paternity {
  if (paternity === undefined || paternity === 'single') return { kind: 'single', rate: 0 };
  if (paternity === 'independent') return { kind: 'independent', rate: 1 };
  if (typeof paternity === 'object' && 'multiple' in paternity) {
    return { kind: 'multiple', rate: reader.chance(paternity.multiple, where) };
  }
  if (typeof paternity === 'object' && 'twoSires' in paternity) {
    return { kind: 'two sires', rate: reader.chance(paternity.twoSires, where) };
  }
  reader.fault(
    'UNKNOWN_PATERNITY',
    `${where} has the paternity ${JSON.stringify(paternity)}.`,
    'Write single, independent, {multiple: rate} or {twoSires: rate}.',
    [],
  );
  return { kind: 'single', rate: 0 };
}

/** Animals that may be of several clutches, by positions; its faults are the reader's. */
export function readFind(reader: Reader, find: FindInput, columns: AnimalColumns): Find {
  const where = `A find of ${find.animals.length} animals`;
  const animals = Int32Array.from(find.animals, (id) => reader.animal(id, where));
  for (const animal of animals) {
    if (animal < 0) continue;
    if (columns.clutch[animal] >= 0 || columns.sire[animal] >= 0 || columns.dam[animal] >= 0) {
      reader.fault(
        'PARENTS_TWICE',
        `${where} holds one that has a clutch or parents.`,
        'Take these out.',
        [],
      );
    }
  }
  const clutches = Int32Array.from(find.clutches, ({ id }) => reader.clutch(id, where));
  const tied = find.clutches.every((clutch) => 'count' in clutch);
  if (tied) {
    const counts = Int32Array.from(find.clutches, (clutch) =>
      'count' in clutch ? clutch.count : 0,
    );
    const sum = counts.reduce((a, b) => a + b, 0);
    if (sum !== animals.length || counts.some((count) => count < 0)) {
      reader.fault(
        'BAD_COUNT',
        `${where} counts ${sum}.`,
        'Let the counts sum to the animals.',
        [],
      );
    }
    const weights = Float64Array.from(counts, (count) => count / sum);
    return { animals, clutches, weights, counts };
  }
  const weights = Float64Array.from(find.clutches, (clutch) =>
    'probability' in clutch ? reader.chance(clutch.probability, where) : 0,
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  if (Math.abs(sum - 1) > 1e-9) {
    reader.fault('OVER_ONE', `${where} has clutches of together ${sum}.`, 'Let them sum to 1.', []);
  }
  return { animals, clutches, weights, counts: null };
}
