import type { SuppositionInput } from '@scutewright/commands';
import { notFound, UserError } from '../../graphql/errors.js';
import { candidatesOf, sexOf, unrecordedShare } from '../../snapshot/findings.js';
import { NO_DAY, NONE, type Snapshot } from '../../snapshot/snapshot.js';
import {
  NAMED_FATHERS_KEEP,
  type RecordRef,
  type Supposed,
} from '../../snapshot/supposed-snapshot.js';
import { positionOf } from '../animals/positions.js';
import { youngOf } from '../genes/gene-finding.js';
import { RecordWords } from '../genes/record-words.js';

export interface ReadSupposition {
  readonly supposed: Supposed;
  /** As a sentence without full stop: 'SG-010 is the father of SG-168'. */
  readonly words: string;
  /** The animal it is about; null for a record of a clutch. */
  readonly subject: number | null;
  /** Whether `acceptSupposition` can write just this. */
  readonly mayBeWritten: boolean;
}

/** Checks a supposition against the records. Throws UserError with the place of the fault. */
export function readSupposition(
  snapshot: Snapshot,
  input: SuppositionInput,
  place: string,
): ReadSupposition {
  if (input.kind === 'STRIKE_RECORD') return readStrike(snapshot, input.recordId, place);
  if (!input.animalId) {
    throw fault('It is not said of which young.', `${place}.animalId`, 'Name the young.');
  }
  const animal = positionOf(snapshot, input.animalId, `${place}.animalId`);
  const { codes, clutch } = snapshot.animals;
  const code = codes[animal];
  const mates =
    clutch[animal] === NONE ? 0 : clutch.filter((each) => each === clutch[animal]).length - 1;
  if (input.kind === 'FATHER') {
    const father = input.fatherId
      ? positionOf(snapshot, input.fatherId, `${place}.fatherId`)
      : null;
    if (father !== null) refuseFather(snapshot, animal, father, `${place}.fatherId`);
    const who = father === null ? 'A male nobody recorded' : codes[father];
    const severally =
      clutch[animal] !== NONE && snapshot.clutches.paternities[clutch[animal]] !== 'ONE_SIRE';
    return {
      supposed: { kind: 'FATHER', animal, father },
      words: `${who} is the father of ${code}${mates > 0 && !severally ? ` and its ${mates} clutch ${mates === 1 ? 'mate' : 'mates'}` : ''}`,
      subject: animal,
      // Fathers that follow from who was where would come back where none is written.
      mayBeWritten:
        (!severally || mates === 0) &&
        !(father === null && snapshot.season.derivedFathers.has(clutch[animal])),
    };
  }
  if (clutch[animal] === NONE) {
    throw fault(
      `No parent of ${code} is recorded.`,
      `${place}.animalId`,
      'Suppose this of a young whose parents are recorded.',
    );
  }
  if (input.kind === 'NOT_OF_CLUTCH') {
    return {
      supposed: { kind: 'NOT_OF_CLUTCH', animal },
      words: `${code} was mixed up: its parents are not those of its clutch, and not known`,
      subject: animal,
      mayBeWritten: true,
    };
  }
  const fathers = candidatesOf(snapshot, snapshot.sires, animal);
  const severally = snapshot.clutches.paternities[clutch[animal]] !== 'ONE_SIRE' || mates === 0;
  const isOpen = unrecordedShare(fathers) > 0;
  if (isOpen && severally) {
    throw fault(
      `A male nobody recorded is already a possible father of ${code}.`,
      `${place}.animalId`,
      'Name a possible father instead.',
    );
  }
  return {
    supposed: { kind: 'OTHER_FATHER', animal },
    words: `Another male may be the father of ${code}${severally ? '' : ', and clutch mates may differ'}${isOpen ? '' : `: those named keep ${NAMED_FATHERS_KEEP * 100} in 100`}`,
    subject: animal,
    mayBeWritten: true,
  };
}

function readStrike(
  snapshot: Snapshot,
  recordId: string | null | undefined,
  place: string,
): ReadSupposition {
  const record = recordRef(snapshot, recordId ?? '');
  if (!record || !recordId) {
    throw notFound('such record', `${place}.recordId`, 'Open the contradiction again.');
  }
  const { sentence, animal } = new RecordWords(snapshot).tell(recordId);
  return {
    supposed: { kind: 'STRIKE_RECORD', record },
    words: `The record '${sentence}' is struck out`,
    subject: animal?.position ?? null,
    mayBeWritten: true,
  };
}

/** The record that an id of inference stands for; null where there is none that can be struck out. */
function recordRef(snapshot: Snapshot, recordId: string): RecordRef | null {
  const [id, trait] = recordId.split('/');
  if (snapshot.declarations.some((entry) => entry.id === id)) return { id, trait: null };
  const check = snapshot.colourChecks.find((entry) => entry.id === id);
  return check ? { id, trait: trait === undefined ? null : Number(trait) } : null;
}

function refuseFather(snapshot: Snapshot, animal: number, father: number, place: string): void {
  const { codes, hatchedEarliest, hatchedLatest } = snapshot.animals;
  const refuse = (message: string) => fault(message, place, 'Suppose another male.', codes[father]);
  if (father === animal) throw refuse('An animal cannot be its own father.');
  if (sexOf(snapshot, father) === 'FEMALE') {
    throw refuse(`${codes[father]} is recorded as female.`);
  }
  const areKnown = hatchedEarliest[father] !== NO_DAY && hatchedLatest[animal] !== NO_DAY;
  if (areKnown && hatchedEarliest[father] >= hatchedLatest[animal]) {
    throw refuse(`${codes[father]} hatched after ${codes[animal]}.`);
  }
  // The father is that of the clutch, so no descendant of a clutch mate can be he.
  const { clutch } = snapshot.animals;
  const below = new Set([animal]);
  for (const [i, own] of clutch.entries()) {
    if (own !== NONE && own === clutch[animal]) below.add(i);
  }
  for (const one of below) for (const young of youngOf(snapshot, one)) below.add(young);
  if (below.has(father))
    throw refuse(`${codes[father]} descends from ${codes[animal]} or a clutch mate.`);
}

function fault(message: string, place: string, remedy: string, thing?: string): UserError {
  return new UserError('BAD_USER_INPUT', message, { place, remedy, thing });
}
