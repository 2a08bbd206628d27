import { Args, ID, Mutation, Query, Resolver } from '@nestjs/graphql';
import { type ImportProgramFileInput, importProgramFileSchema } from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Input } from '../../graphql/input-from-zod.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { exportText } from './export-program.js';
import { ImportProgram } from './import-program.js';
import { ImportPayload, payloadOf } from './program-file.types.js';

@Resolver()
export class ProgramFileResolver {
  constructor(
    private readonly database: Database,
    private readonly imports: ImportProgram,
  ) {}

  @Access('KEEPER')
  @Mutation(() => ImportPayload, {
    description:
      'Looks at an uploaded program file, or brings it in: all or nothing, as one act that can be undone',
  })
  async importProgramFile(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(importProgramFileSchema) input: ImportProgramFileInput,
  ): Promise<ImportPayload> {
    const { file, commandId } = await this.imports.run(right, input);
    return { ...payloadOf(file), commandId, program: await readProgramRow(this.database, right) };
  }

  @Access('READER')
  @Query(() => String, { description: 'The animals as a program file (CSV, UTF-8)' })
  exportProgram(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Args('formulaSafe', {
      type: () => Boolean,
      defaultValue: false,
      description: 'Puts an apostrophe before cells that a spreadsheet would run as formulas',
    })
    formulaSafe: boolean,
  ): Promise<string> {
    return exportText(this.database, right, formulaSafe);
  }
}
