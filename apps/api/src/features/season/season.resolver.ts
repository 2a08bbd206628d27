import { Args, ID, Int, Mutation, Query, Resolver } from '@nestjs/graphql';
import {
  type ChangeSeasonSettingsInput,
  changeSeasonSettingsSchema,
  type EditClutchInput,
  editClutchSchema,
  type RemoveClutchInput,
  removeClutchSchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { type Connection, connectionOf, pageOf, pageStart } from '../../graphql/connection.js';
import { notFound } from '../../graphql/errors.js';
import { Input } from '../../graphql/input-from-zod.js';
import { NO_DAY, type Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { ClutchCommands } from './clutch-commands.js';
import { clutchSheet, youngByClutch } from './clutch-sheet.js';
import { growthOf } from './growth-of.js';
import { ClutchPayload, ClutchSheet, ClutchStage, Growth, SeasonSettings } from './season.types.js';

const ClutchConnection = connectionOf(ClutchSheet, 'Clutch');

@Resolver()
export class SeasonResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly accounts: Accounts,
    private readonly commands: ClutchCommands,
  ) {}

  @Access('READER')
  @Query(() => ClutchConnection, {
    description: 'The clutches with a code, a laying date or eggs, latest first',
  })
  async clutches(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('first', { type: () => Int, defaultValue: 50, description: '1 to 500' }) first: number,
    @Args('after', { type: () => String, nullable: true }) after?: string,
    @Args('year', {
      type: () => Int,
      nullable: true,
      description:
        'Laid, surely or possibly, in the season that begins in this year; hatched, where the laying date is not known',
    })
    year?: number,
    @Args('stage', { type: () => ClutchStage, nullable: true }) stage?: ClutchStage,
    @Args('search', { type: () => String, nullable: true, description: 'Part of a code' })
    search?: string,
  ): Promise<Connection<ClutchSheet>> {
    const start = pageStart(first, after);
    const snapshot = await this.snapshots.current(right);
    const young = youngByClutch(snapshot);
    const part = search?.trim().toLowerCase() ?? '';
    const found = clutchesWritten(snapshot, year ?? null).filter((clutch) =>
      (snapshot.clutches.codes[clutch] ?? '').toLowerCase().includes(part),
    );
    const sheets = stage
      ? found
          .map((clutch) => clutchSheet(snapshot, clutch, young))
          .filter((sheet) => sheet.stage === stage)
      : null;
    const page =
      sheets?.slice(start, start + first) ??
      found.slice(start, start + first).map((clutch) => clutchSheet(snapshot, clutch, young));
    return pageOf(page, start, sheets?.length ?? found.length);
  }

  @Access('READER')
  @Query(() => ClutchSheet, {
    nullable: true,
    description: 'One clutch by id or code; null where there is none',
  })
  async clutch(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('id', { type: () => ID, nullable: true }) id?: string,
    @Args('code', { type: () => String, nullable: true }) code?: string,
  ): Promise<ClutchSheet | null> {
    const snapshot = await this.snapshots.current(right);
    const position = id
      ? snapshot.clutches.ids.indexOf(id)
      : snapshot.clutches.codes.indexOf(code ?? '');
    return position < 0 ? null : clutchSheet(snapshot, position, youngByClutch(snapshot));
  }

  @Access('READER')
  @Query(() => Growth, { description: 'How an animal has grown' })
  async growth(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('animalId', { type: () => ID }) animalId: string,
  ): Promise<Growth> {
    const snapshot = await this.snapshots.current(right);
    const position = snapshot.animals.positionById.get(animalId);
    if (position === undefined)
      throw notFound('such animal', 'animalId', 'Look it up in the register again.');
    return growthOf(snapshot, position);
  }

  @Access('READER')
  @Query(() => SeasonSettings, { description: 'What the program assumes of its season' })
  async seasonSettings(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<SeasonSettings> {
    const { season } = await this.snapshots.current(right);
    const { matureYears, ...settings } = season.settings;
    return { ...settings, matureYearsFrom: matureYears[0], matureYearsTo: matureYears[1] };
  }

  @Access('KEEPER')
  @Mutation(() => ClutchPayload, {
    description: 'Corrects a clutch; fathers set by hand win over those by who was where',
  })
  async editClutch(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(editClutchSchema) input: EditClutchInput,
  ): Promise<ClutchPayload> {
    const { clutchId } = await this.commands.edit(right, input);
    const snapshot = await this.snapshots.current(right);
    const position = snapshot.clutches.ids.indexOf(clutchId);
    if (position < 0)
      throw notFound(
        'such clutch any more',
        'input',
        'It was removed meanwhile; look at the history.',
      );
    return {
      clutch: clutchSheet(snapshot, position, youngByClutch(snapshot)),
      commandId: input.commandId,
      program: await readProgramRow(this.database, right),
    };
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, {
    description: 'Removes a clutch that was entered by mistake and has no young',
  })
  async removeClutch(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(removeClutchSchema) input: RemoveClutchInput,
  ): Promise<CommandPayload> {
    await this.commands.remove(right, input);
    return this.commandPayload(right, input.commandId);
  }

  @Access('OWNER')
  @Mutation(() => CommandPayload, { description: 'Changes what the program assumes of its season' })
  async changeSeasonSettings(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(changeSeasonSettingsSchema) input: ChangeSeasonSettingsInput,
  ): Promise<CommandPayload> {
    await this.commands.changeSettings(right, input);
    return this.commandPayload(right, input.commandId);
  }

  private async commandPayload(right: ProgramAccess, commandId: string): Promise<CommandPayload> {
    return {
      command: await readCommand(this.database, this.accounts, right, commandId),
      program: await readProgramRow(this.database, right),
    };
  }
}

/**
 * Positions of clutches that were written down, latest first: by code, laying date or eggs. Those that only hold an animal's parents are
 * left out. Where the laying date is not known, the days on which young hatched stand for it.
 */
function clutchesWritten(snapshot: Snapshot, year: number | null): number[] {
  const { clutches, season } = snapshot;
  const { days } = youngByClutch(snapshot);
  const month = season.settings.seasonStartMonth - 1;
  const from = year === null ? Number.NEGATIVE_INFINITY : Date.UTC(year, month, 1) / 86_400_000;
  const to = year === null ? Number.POSITIVE_INFINITY : Date.UTC(year + 1, month, 1) / 86_400_000;
  const isLaidKnown = (c: number) => clutches.laidEarliest[c] !== NO_DAY;
  const first = (c: number) => (isLaidKnown(c) ? clutches.laidEarliest[c] : days.get(c)?.[0]);
  const last = (c: number) =>
    (isLaidKnown(c) ? clutches.laidLatest[c] : days.get(c)?.[1]) ?? NO_DAY;
  return Array.from({ length: clutches.count }, (_, c) => c)
    .filter((c) => {
      const isKept =
        clutches.codes[c] !== null || clutches.laid[c] !== null || clutches.eggs[c] >= 0;
      const begins = first(c);
      return isKept && (year === null || (begins !== undefined && begins < to && last(c) >= from));
    })
    .sort(
      (a, b) =>
        last(b) - last(a) || (clutches.codes[a] ?? '').localeCompare(clutches.codes[b] ?? ''),
    );
}
