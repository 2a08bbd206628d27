import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { FaultsError } from '@scutewright/basics';
import type {
  AddTraitInput,
  EditTraitInput,
  RemoveTraitInput,
  TraitDefinition,
} from '@scutewright/commands';
import { type RuleInput, readRuleText } from '@scutewright/genetics';
import { lociOfRule } from '../../compute/inference-input.js';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { listOf, refuseBrokenDefinitions } from '../../snapshot/refuse-broken-definitions.js';

/** Adding, correcting and removing traits. Each is one act; the kernels check the whole before it is kept. */
@Injectable()
export class TraitCommands {
  constructor(private readonly database: Database) {}

  add(right: ProgramAccess, input: AddTraitInput): Promise<{ traitId: string }> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'add-trait' };
    return command(this.database, right, request, async (tx) => {
      await refuseTakenName(tx, programId, input.name, null);
      const traitId = randomUUID();
      const { name } = input;
      const definition = definitionOf(input) as object;
      await tx.trait.create({ data: { programId, id: traitId, code: name, name, definition } });
      await refuseBrokenDefinitions(tx, programId);
      return { sentence: `Added the trait ${name}`, result: { traitId } };
    });
  }

  edit(right: ProgramAccess, input: EditTraitInput): Promise<{ traitId: string }> {
    const { programId } = right;
    const { traitId, name } = input;
    const request = { id: input.commandId, kind: 'edit-trait' };
    return command(this.database, right, request, async (tx) => {
      await findTrait(tx, programId, traitId);
      await refuseTakenName(tx, programId, name, traitId);
      await tx.trait.update({
        where: { programId_id: { programId, id: traitId } },
        data: { code: name, name, definition: definitionOf(input) as object },
      });
      await refuseBrokenDefinitions(tx, programId);
      return { sentence: `Changed the trait ${name}`, result: { traitId } };
    });
  }

  remove(right: ProgramAccess, input: RemoveTraitInput): Promise<object> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'remove-trait' };
    return command(this.database, right, request, async (tx) => {
      const trait = await findTrait(tx, programId, input.traitId);
      const seen = await tx.$queryRaw<{ code: string }[]>`
        SELECT DISTINCT coalesce(a.code, c.code, 'a lot') AS code FROM observation o
          LEFT JOIN animal a ON a.program_id = o.program_id AND a.id = o.animal_id
          LEFT JOIN clutch c ON c.program_id = o.program_id AND c.id = o.clutch_id
        WHERE o.program_id = ${programId}::uuid
          AND (o.trait_id = ${trait.id}::uuid OR o.value::text LIKE ${`%"${trait.id}"%`}) ORDER BY code`;
      if (seen.length > 0) {
        throw new UserError(
          'CONFLICT',
          `The trait ${trait.name} cannot go: it was seen on ${listOf(seen)}.`,
          {
            thing: trait.name,
            place: 'input.traitId',
            remedy: 'Take back these colour checks first, or rename the trait.',
          },
        );
      }
      await tx.trait.delete({ where: { programId_id: { programId, id: trait.id } } });
      return { sentence: `Removed the trait ${trait.name}`, result: {} };
    });
  }
}

async function findTrait(tx: Tx, programId: string, id: string) {
  const trait = await tx.trait.findUnique({ where: { programId_id: { programId, id } } });
  if (!trait) throw notFound('such trait', 'input.traitId', 'Choose one of the list.');
  return trait;
}

async function refuseTakenName(
  tx: Tx,
  programId: string,
  name: string,
  own: string | null,
): Promise<void> {
  const taken = await tx.trait.findFirst({
    where: { programId, OR: [{ code: name }, { name }], NOT: own ? { id: own } : undefined },
  });
  if (!taken) return;
  throw new UserError('CODE_TAKEN', `There is a trait '${name}' already.`, {
    thing: name,
    place: 'input.name',
    remedy: 'Choose another name, or change that trait.',
  });
}

function definitionOf(input: AddTraitInput | EditTraitInput): TraitDefinition {
  const { description, misreadYoung, misreadAdult, welfareNote, welfareSource } = input;
  return {
    when: readRule(input.shows),
    misreadYoung,
    misreadAdult,
    ...(description && { description }),
    ...(welfareNote && { welfareNote }),
    ...(welfareSource && { welfareSource }),
  };
}

function readRule(text: string): RuleInput {
  try {
    const rule = readRuleText(text);
    if (lociOfRule(rule).length > 0) return rule;
    throw new UserError('BAD_USER_INPUT', 'The rule speaks of no gene.', {
      place: 'input.shows',
      remedy: 'Say which genotype shows it, like: pl = p/p.',
    });
  } catch (error) {
    if (!(error instanceof FaultsError)) throw error;
    const [{ message, remedy }] = error.faults;
    throw new UserError('BAD_USER_INPUT', message, { place: 'input.shows', remedy });
  }
}
