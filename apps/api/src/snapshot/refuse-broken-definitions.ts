import { FaultsError } from '@scutewright/basics';
import { locusDefinitionSchema, traitDefinitionSchema } from '@scutewright/commands';
import { genotypePosteriors, type ProgramInput } from '@scutewright/inference';
import { assumedFrequencies } from '../compute/inference-input.js';
import type { Tx } from '../db/database.js';
import { UserError } from '../graphql/errors.js';

/** The definitions of a program as the kernels take them. */
export type DefinitionInput = Pick<ProgramInput, 'loci' | 'traits' | 'linkage' | 'allelism'>;

export async function readDefinitionInput(tx: Tx, programId: string): Promise<DefinitionInput> {
  const where = { programId };
  const loci = await tx.locus.findMany({ where, orderBy: { code: 'asc' } });
  const traits = await tx.trait.findMany({ where, orderBy: { name: 'asc' } });
  const pairs = await tx.locusPair.findMany({ where });
  const codes = new Map(loci.map(({ id, code }) => [id, code]));
  const both = ({ firstId, secondId }: { firstId: string; secondId: string }) =>
    [codes.get(firstId) ?? '', codes.get(secondId) ?? ''] as const;
  return {
    loci: loci.map(({ code, definition }) => {
      const { alleles, inheritance, frequencies } = locusDefinitionSchema.parse(definition);
      return {
        id: code,
        alleles,
        inheritance,
        frequencies: frequencies ?? assumedFrequencies(alleles),
      };
    }),
    traits: traits.map(({ name, definition }) => ({
      id: name,
      when: traitDefinitionSchema.parse(definition).when,
    })),
    linkage: pairs
      .filter(({ kind }) => kind === 'LINKED')
      .map((pair) => ({ loci: both(pair), r: pair.chance })),
    allelism: pairs
      .filter(({ kind }) => kind === 'ONE_GENE')
      .map((pair) => ({ loci: both(pair), probability: pair.chance })),
  };
}

/** What the kernels have against definitions; empty where they take them. */
export function faultsOfDefinitions(input: DefinitionInput): FaultsError['faults'] {
  try {
    // A program without animals: every check of the kernels, and no work.
    genotypePosteriors({ ...input, animals: [] });
    return [];
  } catch (error) {
    if (error instanceof FaultsError) return error.faults;
    throw error;
  }
}

/**
 * Throws where genes and traits, as they stand in this transaction, could not be worked with: the kernels refuse them, or a record names
 * a trait or an allele that is gone. Asked before an act on definitions is kept, and before one is taken back.
 */
export async function refuseBrokenDefinitions(tx: Tx, programId: string): Promise<void> {
  const [fault, ...more] = faultsOfDefinitions(await readDefinitionInput(tx, programId));
  if (fault) {
    const others = more.length > 0 ? ` (and ${more.length} more)` : '';
    throw new UserError('BAD_USER_INPUT', `${fault.message}${others}`, {
      thing: fault.ids[0],
      place: 'input',
      remedy: fault.remedy,
    });
  }
  const checks = await tx.$queryRaw<{ code: string }[]>`
    SELECT DISTINCT coalesce(a.code, c.code, 'a lot') AS code FROM observation o
      LEFT JOIN animal a ON a.program_id = o.program_id AND a.id = o.animal_id
      LEFT JOIN clutch c ON c.program_id = o.program_id AND c.id = o.clutch_id,
      jsonb_path_query_array(o.value, '$.seen[*]') AS checked,
      jsonb_path_query_array(o.value, '$.*[*].traitId') AS counted,
      jsonb_array_elements_text(checked || counted) AS seen
    WHERE o.program_id = ${programId}::uuid AND o.kind IN ('colour-check', 'colour-count', 'eggs')
      AND NOT EXISTS (SELECT 1 FROM trait t WHERE t.program_id = o.program_id AND t.id = seen::uuid)
    ORDER BY code`;
  refuseNamed(checks, 'colour check', 'a trait that would be gone');
  const told = await tx.$queryRaw<{ code: string }[]>`
    SELECT DISTINCT a.code FROM observation o JOIN animal a ON a.program_id = o.program_id AND a.id = o.animal_id
      JOIN locus l ON l.program_id = o.program_id AND l.id = o.locus_id,
      jsonb_array_elements_text(o.value -> 'alleles') AS allele
    WHERE o.program_id = ${programId}::uuid AND o.kind IN ('declaration', 'test') AND NOT l.definition -> 'alleles' ? allele
    ORDER BY a.code`;
  refuseNamed(told, 'declaration or test', 'an allele that would be gone');
}

function refuseNamed(rows: readonly { code: string }[], what: string, gone: string): void {
  if (rows.length === 0) return;
  throw new UserError('CONFLICT', `The ${what} of ${listOf(rows)} names ${gone}.`, {
    thing: rows[0].code,
    place: 'input',
    remedy: 'Change or take back these records first.',
  });
}

/** `HB-001, HB-002, HB-003 and 4 more`. */
export function listOf(rows: readonly { readonly code: string }[], most = 3): string {
  const names = rows.slice(0, most).map(({ code }) => code);
  const rest = rows.length - names.length;
  return rest > 0 ? `${names.join(', ')} and ${rest} more` : names.join(', ');
}
