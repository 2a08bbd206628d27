import { ApolloServerPluginCacheControlDisabled } from '@apollo/server/plugin/disabled';
import { ApolloDriver, type ApolloDriverConfig } from '@nestjs/apollo';
import { type DynamicModule, Module } from '@nestjs/common';
import { APP_FILTER, APP_GUARD } from '@nestjs/core';
import { GraphQLModule } from '@nestjs/graphql';
import type { Request, Response } from 'express';
import { AccessGuard } from './auth/access.js';
import { Accounts } from './auth/accounts.js';
import { AuthResolver } from './auth/auth.resolver.js';
import { Links } from './auth/links.js';
import { Sessions } from './auth/sessions.js';
import { ComputePool } from './compute/compute-pool.js';
import { Config } from './config.js';
import { Database } from './db/database.js';
import { AnimalCommands } from './features/animals/animal-commands.js';
import { AnimalsResolver, ProgramAnimalsResolver } from './features/animals/animals.resolver.js';
import { ArchiveResolver } from './features/archive/archive.resolver.js';
import { ArchivesController } from './features/archive/archives.controller.js';
import { BackupResolver } from './features/archive/backup.resolver.js';
import { DefinitionsResolver } from './features/definitions/definitions.resolver.js';
import { LocusCommands } from './features/definitions/locus-commands.js';
import { TraitCommands } from './features/definitions/trait-commands.js';
import { GenesResolver } from './features/genes/genes.resolver.js';
import { GenesOfProgram } from './features/genes/genes-of-program.js';
import { WhyResolver } from './features/genes/why.resolver.js';
import { HealthResolver } from './features/health/health.resolver.js';
import { HistoryResolver } from './features/history/history.resolver.js';
import { Kin } from './features/lineage/kin.js';
import { LineageResolver } from './features/lineage/lineage.resolver.js';
import { ReachResolver } from './features/lineage/reach.resolver.js';
import { RelatednessResolver } from './features/lineage/relatedness.resolver.js';
import { CrossResolver } from './features/pairings/cross.resolver.js';
import { CrossAnswerResolver } from './features/pairings/cross-answer.resolver.js';
import { JointParents } from './features/pairings/joint-parents.js';
import { MatesResolver } from './features/pairings/mates.resolver.js';
import { PaperResolver } from './features/paper/paper.resolver.js';
import { PenConflictsResolver, PensResolver } from './features/pens/pens.resolver.js';
import { PensOfProgram } from './features/pens/pens-of-program.js';
import { PhotoCommands } from './features/photos/photo-commands.js';
import { PhotosController } from './features/photos/photos.controller.js';
import { PhotosResolver } from './features/photos/photos.resolver.js';
import { FilesController } from './features/program-file/files.controller.js';
import { ImportContradictionsResolver } from './features/program-file/import-contradictions.resolver.js';
import { Imports } from './features/program-file/import-job.js';
import { ImportProgram } from './features/program-file/import-program.js';
import { ProgramFileResolver } from './features/program-file/program-file.resolver.js';
import { ProgramsResolver } from './features/programs/programs.resolver.js';
import { RecordEntries } from './features/records/record-entries.js';
import { RecordsResolver } from './features/records/records.resolver.js';
import { RoundResolver } from './features/round/round.resolver.js';
import { SalesResolver } from './features/sales/sales.resolver.js';
import { ClutchCommands } from './features/season/clutch-commands.js';
import { SeasonResolver } from './features/season/season.resolver.js';
import { SpeciesResolver } from './features/species/species.resolver.js';
import { AcceptSupposition } from './features/what-if/accept-supposition.js';
import { WhatIfResolver } from './features/what-if/what-if.resolver.js';
import { PenCommands } from './features/yard/pen-commands.js';
import { YardDayResolver, YardResolver } from './features/yard/yard.resolver.js';
import type { RequestContext } from './graphql/context.js';
import { ErrorCodeEnum } from './graphql/errors.js';
import { formatError } from './graphql/format-error.js';
import { limitDepthAndSize } from './graphql/limits.js';
import { QuietUserErrors } from './graphql/quiet-user-errors.js';
import { HealthController } from './http/health.controller.js';
import { PublicAddress } from './http/public-address.js';
import { Jobs } from './jobs/jobs.js';
import { JobsResolver } from './jobs/jobs.resolver.js';
import { LiveController } from './live/live.controller.js';
import { LiveRevisions } from './live/live-revisions.js';
import { Snapshots } from './snapshot/snapshots.js';

/** Everything that adds to the API's schema; a later one may build on an earlier one, never the reverse. */
export const resolvers = [
  AuthResolver,
  ProgramsResolver,
  JobsResolver,
  HistoryResolver,
  AnimalsResolver,
  ProgramAnimalsResolver,
  RecordsResolver,
  PhotosResolver,
  YardResolver,
  YardDayResolver,
  SeasonResolver,
  RoundResolver,
  PaperResolver,
  ProgramFileResolver,
  ImportContradictionsResolver,
  ArchiveResolver,
  BackupResolver,
  GenesResolver,
  DefinitionsResolver,
  SpeciesResolver,
  WhyResolver,
  LineageResolver,
  RelatednessResolver,
  ReachResolver,
  WhatIfResolver,
  CrossAnswerResolver,
  CrossResolver,
  MatesResolver,
  PensResolver,
  PenConflictsResolver,
  SalesResolver,
  HealthResolver,
];

/** Types that no operation names but that belong to the schema. */
export const buildSchemaOptions = { orphanedTypes: [ErrorCodeEnum] };

@Module({})
class AppModule {}

/** The whole service over one configuration. */
export function appModule(config: Config): DynamicModule {
  return {
    module: AppModule,
    imports: [
      GraphQLModule.forRoot<ApolloDriverConfig>({
        driver: ApolloDriver,
        path: '/graphql',
        autoSchemaFile: true,
        sortSchema: true,
        csrfPrevention: true,
        playground: false,
        introspection: true,
        includeStacktraceInErrorResponses: false,
        // Else every field of an answer is wrapped to look for cache hints: half the time of a large one.
        plugins: [ApolloServerPluginCacheControlDisabled()],
        validationRules: [limitDepthAndSize],
        formatError,
        context: ({ req, res }: { req: Request; res: Response }): RequestContext => ({
          req,
          res,
          rights: new Map(),
        }),
      }),
    ],
    controllers: [
      HealthController,
      FilesController,
      PhotosController,
      ArchivesController,
      LiveController,
    ],
    providers: [
      { provide: Config, useValue: config },
      { provide: Database, useFactory: () => new Database(config.databaseUrl) },
      { provide: APP_GUARD, useClass: AccessGuard },
      { provide: APP_FILTER, useClass: QuietUserErrors },
      Accounts,
      Sessions,
      Links,
      PublicAddress,
      ComputePool,
      Snapshots,
      LiveRevisions,
      AnimalCommands,
      Jobs,
      ImportProgram,
      Imports,
      RecordEntries,
      PhotoCommands,
      PenCommands,
      ClutchCommands,
      GenesOfProgram,
      LocusCommands,
      TraitCommands,
      JointParents,
      Kin,
      AcceptSupposition,
      PensOfProgram,
      ...resolvers,
    ],
  };
}
