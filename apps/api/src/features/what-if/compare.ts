import type { GenesAnswer } from '../../compute/genes-task.js';
import type { InbreedingAnswer } from '../../compute/inbreeding-task.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { geneFinding, locusType } from '../genes/gene-finding.js';
import type { AnimalShift, FatherShift, GeneShift } from './what-if.types.js';

/** All that is computed of one set of records. */
export interface Answers {
  readonly snapshot: Snapshot;
  readonly genes: GenesAnswer;
  readonly kin: InbreedingAnswer;
}

/** Less than half of one in a hundred does not show. */
const LEAST = 0.005;
const LEAST_F = 1e-9;

/** Positions of the animals for which anything changes, those that change most first. Cost: animals x loci. */
export function changedAnimals(now: Answers, then: Answers): number[] {
  const changes: { animal: number; size: number }[] = [];
  for (let animal = 0; animal < now.snapshot.animals.count; animal++) {
    const F = Math.abs(now.kin.inbreeding[animal] - then.kin.inbreeding[animal]);
    let size = F > LEAST_F ? Math.max(F * 4, LEAST) : 0;
    const key = String(animal);
    for (const { code } of now.snapshot.loci) {
      const before = now.genes.genotypes[key]?.[code] ?? {};
      const after = then.genes.genotypes[key]?.[code] ?? {};
      size = Math.max(size, largestChange(before, after));
    }
    size = Math.max(size, largestChange(now.genes.sires[key] ?? {}, then.genes.sires[key] ?? {}));
    if (size >= LEAST) changes.push({ animal, size });
  }
  return changes.sort((a, b) => b.size - a.size).map(({ animal }) => animal);
}

/** What changes for one animal. */
export function animalShift(now: Answers, then: Answers, animal: number): AnimalShift {
  return {
    animal: new Animal(now.snapshot, animal),
    inbreedingNow: now.kin.inbreeding[animal],
    inbreedingThen: then.kin.inbreeding[animal],
    fathers: fatherShifts(now, then, animal),
    genes: now.snapshot.loci.flatMap((locus, at): GeneShift[] => {
      const before = geneFinding(now.snapshot, now.genes, animal, at);
      const after = geneFinding(then.snapshot, then.genes, animal, at);
      const shift = {
        locus: locusType(locus),
        labelNow: before.label,
        labelThen: after.label,
        carriesNow: before.carries.value,
        carriesThen: after.carries.value,
      };
      const moved = Math.abs(shift.carriesNow - shift.carriesThen) >= LEAST;
      return moved || shift.labelNow !== shift.labelThen ? [shift] : [];
    }),
  };
}

function fatherShifts(now: Answers, then: Answers, animal: number): FatherShift[] {
  const before = fathersOf(now, animal);
  const after = fathersOf(then, animal);
  if (largestChange(before, after) < LEAST) return [];
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return names
    .map((name) => ({
      animal: name === 'unknown' ? null : new Animal(now.snapshot, Number(name)),
      now: before[name] ?? 0,
      supposed: after[name] ?? 0,
    }))
    .sort((a, b) => b.supposed - a.supposed || b.now - a.now);
}

/** By position of the father, or `unknown`: his chance by all records. */
function fathersOf({ snapshot, genes }: Answers, animal: number): Record<string, number> {
  const open = genes.sires[String(animal)];
  if (open) return open;
  const { candidates, unrecorded } = new Animal(snapshot, animal).sire;
  const known = candidates.map((one) => [String(one.animal.position), one.probability] as const);
  return Object.fromEntries([
    ...known,
    ...(unrecorded > 0 ? [['unknown', unrecorded] as const] : []),
  ]);
}

function largestChange(
  before: Readonly<Record<string, number>>,
  after: Readonly<Record<string, number>>,
): number {
  let most = 0;
  for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
    most = Math.max(most, Math.abs((before[key] ?? 0) - (after[key] ?? 0)));
  }
  return most;
}
