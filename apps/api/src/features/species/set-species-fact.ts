import { randomUUID } from 'node:crypto';
import {
  type SetSpeciesFactInput,
  type SpeciesOverrides,
  speciesOverridesSchema,
} from '@scutewright/commands';
import { SETTABLE_FACTS, speciesFacts } from '@scutewright/housing';
import { command } from '../../db/command.js';
import type { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';

/** Sets one fact of a species for this program, or goes back to what is shipped, as one act. */
export function setSpeciesFact(
  database: Database,
  right: ProgramAccess,
  input: SetSpeciesFactInput,
): Promise<object> {
  const { programId } = right;
  const { species, fact, numbers, reason } = input;
  refuseOdd(input);
  const name =
    speciesFacts(species)
      .find(({ key }) => key === fact)
      ?.name.toLowerCase() ?? fact;
  const request = { id: input.commandId, kind: 'set-species-fact' };
  return command(database, right, request, async (tx) => {
    const where = { programId_species: { programId, species } };
    const row = await tx.speciesSetting.findUnique({ where });
    const { [fact]: _, ...others } = speciesOverridesSchema.parse(row?.overrides ?? {});
    const overrides: SpeciesOverrides =
      numbers.length === 0 ? others : { ...others, [fact]: { numbers, reason: reason ?? '' } };
    const reasons = Object.values(overrides).map((each) => each.reason);
    const data = { overrides, reason: [...new Set(reasons)].join('; ') };
    if (Object.keys(overrides).length === 0) {
      if (row) await tx.speciesSetting.delete({ where });
    } else {
      await tx.speciesSetting.upsert({
        where,
        create: { programId, id: randomUUID(), species, ...data },
        update: data,
      });
    }
    return {
      sentence:
        numbers.length === 0
          ? `Took ${name} of ${species} as shipped`
          : `Set ${name} of ${species} to ${numbers.join(' to ')}`,
      result: {},
    };
  });
}

function refuseOdd({ fact, numbers }: SetSpeciesFactInput): void {
  if (numbers.length === 0) return;
  const { numbers: wanted, least, most } = SETTABLE_FACTS[fact];
  const isRising = numbers.every((value, i) => i === 0 || value >= numbers[i - 1]);
  const isWithin = numbers.every((value) => value >= least && value <= most);
  if (numbers.length === wanted && isRising && isWithin) return;
  throw new UserError('BAD_USER_INPUT', `${numbers.join(' to ')} cannot stand here.`, {
    thing: numbers.join(' to '),
    place: 'input.numbers',
    remedy:
      wanted === 1
        ? `Give one figure from ${least} to ${most}.`
        : `Give two figures from ${least} to ${most}, the smaller first.`,
  });
}
