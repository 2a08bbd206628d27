import { evenShares, type PartialDate } from '@scutewright/basics';
import type { ParentInput } from '@scutewright/commands';
import type { Tx } from '../../db/database.js';
import { UserError } from '../../graphql/errors.js';

export interface ParentSets {
  readonly sires: readonly ParentInput[];
  readonly dams: readonly ParentInput[];
}

export interface WeighedCandidate {
  readonly parent: 'SIRE' | 'DAM';
  readonly animalId: string;
  readonly probability: number;
}

interface ParentRow {
  id: string;
  code: string;
  sexes: string[] | null;
  is_dam: boolean;
  is_sire: boolean;
  hatched_earliest: Date | null;
  is_descendant: boolean;
}

const DAY_MS = 86_400_000;

/**
 * Checks the possible parents of one animal against everything else: they exist, are not
 * the animal itself nor its descendants, can be of the sex, are older, and their
 * probabilities sum to at most 1. Candidates without a probability share evenly what is
 * left. Throws UserError with the place of the first fault.
 */
export async function checkParents(
  tx: Tx,
  programId: string,
  parents: ParentSets,
  young: { animalId: string; hatched: PartialDate | null },
): Promise<WeighedCandidate[]> {
  const weighed = [
    ...weigh(parents.sires, 'SIRE', 'input.sires'),
    ...weigh(parents.dams, 'DAM', 'input.dams'),
  ];
  if (weighed.length === 0) return [];
  const ids = weighed.map((candidate) => candidate.animalId);
  const rows = await tx.$queryRaw<ParentRow[]>`
    WITH RECURSIVE young(id) AS (
      SELECT ${young.animalId}::uuid
      UNION
      SELECT a.id FROM young
      JOIN candidate c ON c.program_id = ${programId}::uuid AND c.animal_id = young.id
      JOIN animal a ON a.program_id = c.program_id AND a.clutch_id = c.clutch_id
    )
    SELECT a.id, a.code, a.hatched_earliest, a.id IN (SELECT id FROM young) AS is_descendant,
      (SELECT array_agg(o.value->>'sex' ORDER BY o.date_earliest NULLS FIRST, o.id) FROM observation o
        WHERE o.program_id = a.program_id AND o.animal_id = a.id AND o.kind = 'sex') AS sexes,
      EXISTS (SELECT FROM candidate c WHERE c.program_id = a.program_id AND c.animal_id = a.id AND c.parent = 'DAM' AND c.probability = 1) AS is_dam,
      EXISTS (SELECT FROM candidate c WHERE c.program_id = a.program_id AND c.animal_id = a.id AND c.parent = 'SIRE' AND c.probability = 1) AS is_sire
    FROM animal a WHERE a.program_id = ${programId}::uuid AND a.id = ANY(${ids}::uuid[])`;
  const byId = new Map(rows.map((row) => [row.id, row]));
  const seen = { SIRE: 0, DAM: 0 };
  for (const { parent, animalId } of weighed) {
    const side = parent === 'SIRE' ? 'sires' : 'dams';
    const place = `input.${side}.${seen[parent]++}.animalId`;
    const row = byId.get(animalId);
    const word = parent === 'SIRE' ? 'father' : 'mother';
    if (!row) {
      throw fault(
        `This possible ${word} is not an animal of the program.`,
        '',
        place,
        'Choose one from the register, or add it first.',
      );
    }
    if (animalId === young.animalId) {
      throw fault(
        `${row.code} cannot be its own ${word}.`,
        row.code,
        place,
        'Choose another animal.',
      );
    }
    if (row.is_descendant) {
      throw fault(
        `${row.code} descends from this animal, so it cannot be its ${word}.`,
        row.code,
        place,
        'Choose another animal, or correct the parents of the descendants first.',
      );
    }
    const recorded = row.is_dam ? 'FEMALE' : row.is_sire ? 'MALE' : row.sexes?.at(-1);
    const wrong = parent === 'SIRE' ? 'FEMALE' : 'MALE';
    if (recorded === wrong) {
      throw fault(
        `${row.code} is recorded as ${wrong.toLowerCase()}, so it cannot be a ${word}.`,
        row.code,
        place,
        `Choose another animal, or correct the sex of ${row.code}.`,
      );
    }
    const earliest = row.hatched_earliest && row.hatched_earliest.getTime() / DAY_MS;
    if (earliest !== null && young.hatched && earliest >= young.hatched.latest) {
      throw fault(
        `${row.code} hatched after this animal, so it cannot be its ${word}.`,
        row.code,
        place,
        'Correct one of the two hatching dates, or choose another animal.',
      );
    }
  }
  return weighed;
}

function weigh(
  candidates: readonly ParentInput[],
  parent: 'SIRE' | 'DAM',
  place: string,
): WeighedCandidate[] {
  const word = parent === 'SIRE' ? 'fathers' : 'mothers';
  const shares = evenShares(candidates.map(({ probability }) => probability));
  if (!shares) {
    throw fault(
      `The probabilities of the possible ${word} sum to more than 1.`,
      '',
      place,
      'Lower them; what is missing to 1 is an animal nobody recorded.',
    );
  }
  const ids = candidates.map(({ animalId }) => animalId);
  const twice = ids.findIndex((id, i) => ids.indexOf(id) !== i);
  if (twice >= 0) {
    throw fault(
      `One animal stands twice among the possible ${word}.`,
      '',
      `${place}.${twice}.animalId`,
      'Name each animal once.',
    );
  }
  return candidates.map(({ animalId }, i) => ({ parent, animalId, probability: shares[i] }));
}

function fault(message: string, thing: string, place: string, remedy: string): UserError {
  return new UserError('BAD_USER_INPUT', message, { thing: thing || undefined, place, remedy });
}
