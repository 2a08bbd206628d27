import type { explainTask } from '../../compute/why-task.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { RecordWords } from '../genes/record-words.js';
import type { Repair } from './what-if.types.js';

type Explanation = Awaited<ReturnType<typeof explainTask>>[number];

/** The acts that would settle a contradiction, likeliest first; a record of a claim can be struck out too. */
export function repairsOf(
  snapshot: Snapshot,
  recordIds: readonly string[],
  explanations: readonly Explanation[],
): Repair[] {
  const words = new RecordWords(snapshot);
  const repairs: Repair[] = [];
  for (const { kind, record, animal, probability } of explanations) {
    const code = animal >= 0 ? snapshot.animals.codes[animal] : '';
    const animalId = animal >= 0 ? snapshot.animals.ids[animal] : null;
    if (kind === 'misread' && record !== null) {
      repairs.push({
        kind: 'STRIKE_RECORD',
        animalId: null,
        recordId: record,
        sentence: `Misread: strike out '${words.tell(record).sentence}'`,
        probability,
      });
    } else if (kind === 'other sire') {
      const isNamed = hasNamedFather(snapshot, animal);
      repairs.push({
        kind: isNamed ? 'OTHER_FATHER' : 'NOT_OF_CLUTCH',
        animalId,
        recordId: null,
        sentence: `Another male may be the father of ${code}: leave room for one nobody recorded`,
        probability,
      });
    } else if (kind === 'mixed up') {
      repairs.push({
        kind: 'NOT_OF_CLUTCH',
        animalId,
        recordId: null,
        sentence: `${code} was mixed up: take it out of its clutch, its parents not known`,
        probability,
      });
    }
  }
  const struck = new Set(repairs.map(({ recordId }) => recordId));
  const said = recordIds.filter(
    (id) => !struck.has(id) && snapshot.declarations.some((entry) => entry.id === id),
  );
  for (const id of said) {
    repairs.push({
      kind: 'STRIKE_RECORD',
      animalId: null,
      recordId: id,
      sentence: `Told wrong: strike out '${words.tell(id).sentence}'`,
      probability: 0,
    });
  }
  return repairs;
}

function hasNamedFather(snapshot: Snapshot, animal: number): boolean {
  const clutch = snapshot.animals.clutch[animal];
  return clutch !== NONE && snapshot.sires.from[clutch + 1] > snapshot.sires.from[clutch];
}
