import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { parsePartialDate } from '@scutewright/basics';
import {
  type ChangeSeasonSettingsInput,
  type EditClutchInput,
  type RemoveClutchInput,
  seasonSettingsSchema,
} from '@scutewright/commands';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import { dateColumns } from '../../db/date-columns.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { checkParents, type ParentSets } from '../animals/check-parents.js';
import { accountedFor } from '../records/clutch-checks.js';

const DAY_MS = 86_400_000;

/** Correcting clutches, overruling their fathers by hand, and what the program assumes of its season. */
@Injectable()
export class ClutchCommands {
  constructor(private readonly database: Database) {}

  edit(right: ProgramAccess, input: EditClutchInput): Promise<{ clutchId: string }> {
    const { programId } = right;
    const { clutchId } = input;
    return command(
      this.database,
      right,
      { id: input.commandId, kind: 'edit-clutch' },
      async (tx) => {
        const clutch = await findClutch(tx, programId, clutchId);
        if (input.code && input.code !== clutch.code) {
          const other = await tx.clutch.findUnique({
            where: { programId_code: { programId, code: input.code } },
            select: { id: true },
          });
          if (other) {
            throw new UserError('CODE_TAKEN', `There is a clutch ${input.code} already.`, {
              thing: input.code,
              place: 'input.code',
              remedy: 'Choose another code.',
            });
          }
        }
        const eggs = input.eggs === undefined ? clutch.eggs : input.eggs;
        const broken = input.broken === undefined ? clutch.broken : input.broken;
        const notSet = input.notSet === undefined ? clutch.notSet : input.notSet;
        if (eggs !== null && (broken ?? 0) + (notSet ?? 0) > eggs) {
          throw new UserError(
            'BAD_USER_INPUT',
            `More eggs broken or not set than the ${eggs} laid.`,
            { place: 'input.eggs', remedy: 'Count the broken and the unset among the eggs.' },
          );
        }
        await this.refuseBesideYoung(tx, programId, clutch, {
          room: eggs === null ? null : eggs - (broken ?? 0) - (notSet ?? 0),
          laid: input.laid ?? null,
        });
        const words = [input.code ?? clutch.code ?? 'a clutch'];
        if (input.dams || input.sires) words.push(await this.writeParents(tx, right, input));
        await tx.clutch.update({
          where: { programId_id: { programId, id: clutchId } },
          data: {
            code: input.code,
            eggs,
            broken,
            notSet,
            notes: input.notes === undefined ? undefined : input.notes || null,
            ...(input.laid === undefined ? {} : dateColumns('laid', input.laid)),
          },
        });
        return { sentence: `Corrected ${words.join(': ')}`, result: { clutchId } };
      },
    );
  }

  /** The corrected clutch must still hold its young: no fewer eggs than are accounted for, none hatched before it was laid. */
  private async refuseBesideYoung(
    tx: Tx,
    programId: string,
    { id, code }: { id: string; code: string | null },
    { room, laid }: { room: number | null; laid: string | null },
  ): Promise<void> {
    const used = await accountedFor(tx, programId, id);
    if (room !== null && used > room) {
      throw new UserError(
        'BAD_USER_INPUT',
        `Of ${used} eggs of ${code ?? 'this clutch'} is written what became; ${room} could have hatched.`,
        {
          thing: code ?? undefined,
          place: 'input.eggs',
          remedy: 'Correct the number, or take back what was written of its eggs first.',
        },
      );
    }
    const day = laid ? parsePartialDate(laid) : null;
    const first = day
      ? await tx.animal.findFirst({
          where: {
            programId,
            clutchId: id,
            hatchedLatest: { lt: new Date(day.earliest * DAY_MS) },
          },
          select: { code: true, hatched: true },
        })
      : null;
    if (!first) return;
    throw new UserError(
      'BAD_USER_INPUT',
      `${first.code} hatched on ${first.hatched}, before ${laid}.`,
      {
        thing: first.code,
        place: 'input.laid',
        remedy: 'Correct the day, or the hatching date of the animal.',
      },
    );
  }

  /** Fathers set by hand win over those by who was where; an empty list gives these back. */
  private async writeParents(
    tx: Tx,
    { programId }: ProgramAccess,
    input: EditClutchInput,
  ): Promise<string> {
    const { clutchId, sires, dams, reason } = input;
    if (sires && sires.length > 0 && !reason) {
      throw new UserError('BAD_USER_INPUT', 'Fathers set by hand need a reason.', {
        place: 'input.reason',
        remedy: 'Say how you know.',
      });
    }
    const oldest = await tx.animal.findFirst({
      where: { programId, clutchId },
      orderBy: { hatchedEarliest: 'asc' },
    });
    const hatched = oldest?.hatched ? parsePartialDate(oldest.hatched) : null;
    const given: ParentSets = { sires: sires ?? [], dams: dams ?? [] };
    // Without young there is nobody to descend from: any id stands for 'nobody'.
    const weighed = await checkParents(tx, programId, given, {
      animalId: oldest?.id ?? randomUUID(),
      hatched,
    });
    const replaced = [...(sires ? ['SIRE' as const] : []), ...(dams ? ['DAM' as const] : [])];
    await tx.candidate.deleteMany({ where: { programId, clutchId, parent: { in: replaced } } });
    await tx.candidate.createMany({
      data: weighed.map((candidate) => ({
        programId,
        id: randomUUID(),
        clutchId,
        basis: 'BY_HAND' as const,
        reason: reason ?? null,
        ...candidate,
      })),
    });
    const why = reason ? ` (${reason})` : '';
    const mothers = dams ? `mother ${await codesOf(tx, programId, dams)}` : '';
    const fathers =
      sires?.length === 0
        ? 'fathers by who was where again'
        : sires
          ? `father ${await codesOf(tx, programId, sires)} by hand`
          : '';
    return [mothers, fathers].filter(Boolean).join(', ') + why;
  }

  remove(right: ProgramAccess, input: RemoveClutchInput): Promise<object> {
    const { programId } = right;
    const { clutchId } = input;
    return command(
      this.database,
      right,
      { id: input.commandId, kind: 'remove-clutch' },
      async (tx) => {
        const clutch = await findClutch(tx, programId, clutchId);
        const young = await tx.animal.findMany({
          where: { programId, clutchId },
          select: { code: true },
          take: 3,
        });
        const lots = await tx.lotChange.count({ where: { programId, clutchId } });
        const maybe = await tx.possibleClutch.count({ where: { programId, clutchId } });
        if (young.length + lots + maybe > 0) {
          const codes = young.map(({ code }) => code).join(', ');
          throw new UserError(
            'CONFLICT',
            `${clutch.code ?? 'This clutch'} has young${codes ? ` (${codes})` : ''}.`,
            {
              thing: clutch.code ?? undefined,
              place: 'input.clutchId',
              remedy: 'Take back the hatching first, or correct the clutch instead.',
            },
          );
        }
        await tx.observation.deleteMany({ where: { programId, clutchId } });
        await tx.eggBatch.deleteMany({ where: { programId, clutchId } });
        await tx.candidate.deleteMany({ where: { programId, clutchId } });
        await tx.clutch.delete({ where: { programId_id: { programId, id: clutchId } } });
        return { sentence: `Removed clutch ${clutch.code ?? ''}`.trim(), result: {} };
      },
    );
  }

  changeSettings(right: ProgramAccess, input: ChangeSeasonSettingsInput): Promise<object> {
    const { programId } = right;
    return command(
      this.database,
      right,
      { id: input.commandId, kind: 'change-season-settings' },
      async (tx) => {
        const { settings } = await tx.program.findUniqueOrThrow({
          where: { id: programId },
          select: { settings: true },
        });
        const stored = (settings ?? {}) as { season?: object };
        const known = seasonSettingsSchema.parse(stored.season ?? {});
        const { commandId: _, matureYearsFrom, matureYearsTo, ...given } = input;
        const [from, to] = [
          matureYearsFrom ?? known.matureYears[0],
          matureYearsTo ?? known.matureYears[1],
        ];
        if (from > to) {
          throw new UserError(
            'BAD_USER_INPUT',
            `Mature from ${from} years at the earliest, but surely from ${to}.`,
            { place: 'input.matureYearsTo', remedy: 'Give the smaller age first.' },
          );
        }
        const set = Object.fromEntries(
          Object.entries(given).filter(([, value]) => value !== undefined),
        );
        const season = seasonSettingsSchema.parse({ ...known, ...set, matureYears: [from, to] });
        await tx.program.update({
          where: { id: programId },
          data: { settings: { ...stored, season } },
        });
        return { sentence: 'Changed what the program assumes of its season', result: {} };
      },
    );
  }
}

async function codesOf(
  tx: Tx,
  programId: string,
  parents: readonly { readonly animalId: string }[],
): Promise<string> {
  const ids = parents.map(({ animalId }) => animalId);
  const rows = await tx.animal.findMany({
    where: { programId, id: { in: ids } },
    select: { code: true },
    orderBy: { code: 'asc' },
  });
  return rows.map(({ code }) => code).join(' or ') || 'not known';
}

async function findClutch(tx: Tx, programId: string, id: string) {
  const clutch = await tx.clutch.findUnique({ where: { programId_id: { programId, id } } });
  if (!clutch)
    throw notFound('such clutch', 'input.clutchId', 'Look it up among the clutches again.');
  return clutch;
}
