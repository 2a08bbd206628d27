import { Injectable } from '@nestjs/common';
import {
  type ColumnMap,
  DEFAULT_TRUST,
  type Definitions,
  type ImportProgramFileInput,
} from '@scutewright/commands';
import { ComputePool } from '../../compute/compute-pool.js';
import { type ProgramFileAnswer, programFileInPieces } from '../../compute/program-file-task.js';
import { command } from '../../db/command.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess, readProgram } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import type { JobRun } from '../../jobs/job-runner.js';
import { keepReading, readKeptReadings } from './kept-readings.js';
import { makeDefinitions, proposedDefinitions } from './make-definitions.js';
import { readKnownProgram } from './read-known-program.js';
import { writeImport } from './write-import.js';

const DAY_MS = 86_400_000;
const KIND = 'import-program-file';
const MANY_ANIMALS = 1_000;

export interface ImportOutcome {
  readonly file: ProgramFileAnswer;
  /** The command that wrote it; null after a dry run and where there was nothing to write. */
  readonly commandId: string | null;
  readonly written: ImportCounts;
}

/** Animals that the file makes, changes and leaves alone. */
export interface ImportCounts {
  readonly created: number;
  readonly changed: number;
  readonly leftAlone: number;
}

/** Where nobody waits for progress and nobody can stop. */
const UNWATCHED: JobRun = { report() {}, stopIfAsked() {} };

/** Brings program files in: looks first, then writes all or nothing in one command. */
@Injectable()
export class ImportProgram {
  constructor(
    private readonly database: Database,
    private readonly pool: ComputePool,
  ) {}

  /**
   * A file in `pieces` is read on this thread, one in `bytes` by the pool. `given` are definitions
   * made with the import, as for the demo. The same command id again writes nothing and answers
   * what the first time wrote.
   */
  async bring(
    right: ProgramAccess,
    input: Omit<ImportProgramFileInput, 'uploadId'>,
    upload: { readonly name: string } & (
      | { readonly bytes: Uint8Array }
      | { readonly size: number; readonly pieces: () => AsyncIterable<Uint8Array> }
    ),
    given?: Definitions,
    run: JobRun = UNWATCHED,
  ): Promise<ImportOutcome> {
    const { programId } = right;
    run.report(0.05, 'Reading what the program holds');
    const { revision, known, kept } = await readProgram(this.database, right, async (client) => ({
      revision: Number(
        (await client.query('SELECT revision FROM program WHERE id = current_program()')).rows[0]
          .revision,
      ),
      known: await readKnownProgram(client),
      kept: await readKeptReadings(client),
    }));
    run.stopIfAsked();
    run.report(0.1, 'Reading the file and comparing it with the program');
    const asked = {
      known: given
        ? {
            ...known,
            traits: given.traits.map(({ name }) => name),
            loci: given.loci,
            pens: given.pens.map(({ name }) => name),
          }
        : known,
      map: input.map as Partial<ColumnMap> | undefined,
      kept,
      answers: input.answers,
      corrections: input.corrections,
      today: Math.floor(Date.now() / DAY_MS),
    };
    const file =
      'bytes' in upload
        ? await this.pool.run('programFile', { bytes: upload.bytes, ...asked })
        : await programFileInPieces(upload.pieces, upload.size, asked, (read) => {
            const words = 'Reading the file and comparing it with the program';
            run.report(0.1 + (0.15 * read) / (2 * upload.size), words);
            run.stopIfAsked();
          });
    run.stopIfAsked();
    const { created, changed, leftAlone } = file.plan;
    const counts = {
      created: created.length,
      changed: changed.length,
      leftAlone: leftAlone.length,
    };
    if (input.isDryRun) return { file, commandId: null, written: counts };
    const earlier = await this.earlier(right, input.commandId);
    if (earlier) return { file, commandId: input.commandId, written: earlier };
    this.refuse(file, input);
    if (created.length + changed.length === 0 && !given) {
      return { file, commandId: null, written: counts };
    }
    const request = { id: input.commandId, kind: KIND };
    const { written } = await command(this.database, right, request, async (tx) => {
      const now = await tx.program.findUniqueOrThrow({
        where: { id: programId },
        select: { revision: true },
      });
      if (now.revision !== revision) {
        throw new UserError('CONFLICT', 'Somebody changed the program while the file was read.', {
          place: 'input.uploadId',
          remedy: 'Look at the file once more, then write it.',
        });
      }
      if (input.map || file.guesses.length > 0) await keepReading(tx, programId, file.map);
      await makeDefinitions(tx, programId, given ?? proposedDefinitions(file.questions));
      await writeImport(tx, programId, file.plan, {
        species: input.species ?? null,
        trust: input.trust ?? DEFAULT_TRUST,
        onStep: (share, words) => {
          run.report(0.3 + 0.69 * share, words);
          run.stopIfAsked();
        },
      });
      const what = [
        created.length > 0 ? `${created.length} new` : '',
        changed.length > 0 ? `${changed.length} changed` : '',
      ].filter(Boolean);
      return {
        sentence: `Brought in ${upload.name}: ${what.join(', ')}`,
        result: { programId, written: counts },
      };
    });
    // Whatever is asked next is planned by how many rows there are now, not by how many there were.
    if (created.length > MANY_ANIMALS) {
      await this.database.prisma
        .$executeRaw`ANALYZE animal, clutch, candidate, observation, stay, change`;
    }
    return { file, commandId: input.commandId, written };
  }

  /** What this command wrote, where it was done already. */
  private async earlier(right: ProgramAccess, id: string): Promise<ImportCounts | null> {
    const { programId, accountId } = right;
    const row = await inProgram(this.database, right, (tx) =>
      tx.command.findUnique({ where: { programId_id: { programId, id } } }),
    );
    if (row?.kind !== KIND || row.accountId !== accountId) return null;
    return (row.result as { written?: ImportCounts }).written ?? null;
  }

  private refuse(file: ProgramFileAnswer, input: Omit<ImportProgramFileInput, 'uploadId'>): void {
    if (file.isBlocked) {
      const fault = file.faults.find(({ isFatal }) => isFatal);
      throw new UserError(
        'BAD_USER_INPUT',
        `The file has ${file.faultCount} faults; the first: ${fault?.message ?? ''}`,
        {
          place: 'input.uploadId',
          remedy: 'Mend what the dry run lists and send the file again; nothing was written.',
        },
      );
    }
    const asked = file.questions.filter(
      (question) =>
        question.kind !== 'NO_SPECIES' &&
        question.kind !== 'SPECIES' &&
        !input.answers?.some(({ kind, name }) => kind === question.kind && name === question.name),
    );
    if (asked.length > 0 && !input.makesProposed) {
      throw new UserError(
        'BAD_USER_INPUT',
        `The file names ${asked.length} things that the program does not know.`,
        {
          place: 'input.makesProposed',
          remedy: 'Look at what would be made for them and say yes, or correct the file.',
        },
      );
    }
    if (file.questions.some(({ kind }) => kind === 'NO_SPECIES') && !input.species) {
      throw new UserError(
        'BAD_USER_INPUT',
        'The file does not say of which species its animals are.',
        {
          place: 'input.species',
          remedy: 'Choose the species.',
        },
      );
    }
  }
}
