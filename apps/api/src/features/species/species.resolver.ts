import { Args, Field, Float, ID, Mutation, ObjectType, Query, Resolver } from '@nestjs/graphql';
import {
  type SetSpeciesFactInput,
  type SpeciesFactKey,
  setSpeciesFactSchema,
  speciesFactKeySchema,
} from '@scutewright/commands';
import { isShippedSpecies, SETTABLE_FACTS, speciesFacts } from '@scutewright/housing';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { enumType, Input } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { setSpeciesFact } from './set-species-fact.js';

const FactKey = enumType(speciesFactKeySchema);

@ObjectType({ description: 'One thing known of a species, and what the program sets in its place' })
export class SpeciesFact {
  @Field(() => String) name: string;
  @Field(() => String, { description: 'As shipped, in words with its unit' }) value: string;
  @Field(() => String, { nullable: true }) source: string | null;
  @Field(() => String, {
    description:
      'READ: the paper, regulation or records were read. COMPUTED: by us from these. PRACTICE: common practice, no source. NONE: nothing is shipped',
  })
  confidence: string;
  @Field(() => String, { nullable: true }) note: string | null;
  @Field(() => FactKey, { nullable: true, description: 'Null where nothing is reckoned with it' })
  key: SpeciesFactKey | null;
  @Field(() => String, { nullable: true, description: 'What is reckoned with it' })
  usedFor: string | null;
  @Field(() => [Float], { description: "The program's own: one figure, or a range; else empty" })
  own: number[];
  @Field(() => String, { nullable: true, description: 'Why the program sets its own' })
  reason: string | null;
}

@ObjectType({ description: 'What is known of a species' })
export class SpeciesProfile {
  @Field(() => String, { description: 'As the animals have it' }) species: string;
  @Field(() => Boolean, { description: 'Whether facts of it are shipped' }) isShipped: boolean;
  @Field(() => [SpeciesFact]) facts: SpeciesFact[];
}

@ObjectType({ description: 'The species after an act on them' })
export class SpeciesPayload extends CommandPayload {
  @Field(() => [SpeciesProfile]) species: SpeciesProfile[];
}

/** What is shipped of the program's species, and what the program sets itself. */
@Resolver()
export class SpeciesResolver {
  constructor(
    private readonly database: Database,
    private readonly accounts: Accounts,
    private readonly snapshots: Snapshots,
  ) {}

  @Access('READER')
  @Query(() => [SpeciesProfile], { description: 'The species of the program, with their facts' })
  async species(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<SpeciesProfile[]> {
    return profiles(await this.snapshots.current(right));
  }

  @Access('KEEPER')
  @Mutation(() => SpeciesPayload, { description: 'Sets a fact of a species for this program' })
  async setSpeciesFact(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(setSpeciesFactSchema) input: SetSpeciesFactInput,
  ): Promise<SpeciesPayload> {
    await setSpeciesFact(this.database, right, input);
    return {
      species: profiles(await this.snapshots.current(right)),
      command: await readCommand(this.database, this.accounts, right, input.commandId),
      program: await readProgramRow(this.database, right),
    };
  }
}

/** Of the species that animals have or that something is set of, by name. */
function profiles(snapshot: Snapshot): SpeciesProfile[] {
  const names = new Set([...snapshot.animals.species, ...snapshot.speciesSettings.keys()]);
  return [...names].sort().map((species) => ({
    species,
    isShipped: isShippedSpecies(species),
    facts: speciesFacts(species).map(({ key, name, value, source, confidence, note }) => {
      const settable = speciesFactKeySchema.safeParse(key).data ?? null;
      const own = settable ? snapshot.speciesSettings.get(species)?.[settable] : undefined;
      return {
        name,
        value,
        source,
        confidence,
        note: note ?? null,
        key: settable,
        usedFor: settable ? SETTABLE_FACTS[settable].usedFor : null,
        own: [...(own?.numbers ?? [])],
        reason: own?.reason ?? null,
      };
    }),
  }));
}
