import { Args, Field, ID, Int, ObjectType, Query, Resolver } from '@nestjs/graphql';
import {
  type ColumnMap,
  DEFAULT_TRUST,
  type LookAtImportInput,
  lookAtImportSchema,
} from '@scutewright/commands';
import type { ProgramInput } from '@scutewright/inference';
import { Access, Right } from '../../auth/access.js';
import { ComputePool } from '../../compute/compute-pool.js';
import { freeFounderOf, inferenceInput } from '../../compute/inference-input.js';
import { Database } from '../../db/database.js';
import { type ProgramAccess, readProgram } from '../../db/in-program.js';
import { notFound } from '../../graphql/errors.js';
import { Input } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { withImport } from '../../snapshot/with-import.js';
import { findUpload, readUpload } from '../../uploads/uploads.js';
import { readKeptReadings } from './kept-readings.js';
import { proposedDefinitions } from './make-definitions.js';
import { readKnownProgram } from './read-known-program.js';

/** Larger programs are looked at once they are in. */
const MOST_ANIMALS = 20_000;

@ObjectType({ description: 'Records that could not all be true once the file is in' })
export class ImportContradiction {
  @Field(() => [String], { description: 'The smallest set, in words' }) records: string[];
  @Field(() => [String], { description: 'Codes of the animals concerned' }) codes: string[];
}

@ObjectType({ description: 'Whether what would be fits together' })
export class ImportContradictions {
  @Field(() => [ImportContradiction]) contradictions: ImportContradiction[];
  @Field(() => Boolean, { description: 'False where more may be found, or none was looked for' })
  isComplete: boolean;
  @Field(() => [String], { description: 'What is usually behind it' }) explanations: string[];
  @Field(() => Int, { description: 'Animals there would be' }) animals: number;
  @Field(() => Int, { description: 'In a larger program nothing is looked for before it is in' })
  mostAnimals: number;
}

/** Looks at a file as if it were in: which looks, parents and declarations could not all be true. Nothing is written. */
@Resolver()
export class ImportContradictionsResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly pool: ComputePool,
  ) {}

  @Access('KEEPER')
  @Query(() => ImportContradictions, {
    description:
      'What could not be true once an uploaded file is in; no fault, and nothing is written',
  })
  async importContradictions(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(lookAtImportSchema) input: LookAtImportInput,
  ): Promise<ImportContradictions> {
    const upload = await findUpload(this.database, right, input.uploadId);
    if (!upload) {
      throw notFound('such upload', 'input.uploadId', 'Send the file again; it is kept for a day.');
    }
    const { known, kept } = await readProgram(this.database, right, async (client) => ({
      known: await readKnownProgram(client),
      kept: await readKeptReadings(client),
    }));
    const { plan, questions } = await this.pool.run('programFile', {
      bytes: await readUpload(this.database, right, upload.id, 0, upload.size),
      known,
      kept,
      map: input.map as Partial<ColumnMap> | undefined,
      answers: input.answers,
      corrections: input.corrections,
      today: today(),
    });
    const snapshot = await this.snapshots.current(right);
    const would = withImport(
      snapshot,
      plan,
      proposedDefinitions(questions),
      input.trust ?? DEFAULT_TRUST,
    );
    const animals = would.animals.count;
    const bound = { mostAnimals: MOST_ANIMALS };
    if (animals > MOST_ANIMALS) {
      return { contradictions: [], isComplete: false, explanations: [], animals, ...bound };
    }
    const program = inferenceInput(would, today());
    const { sets, complete } = await this.pool.run('clashes', program);
    return {
      contradictions: sets.map((records) => told(would, program, records)),
      isComplete: complete,
      explanations: [
        'A parent or a code is a slip',
        'Another male is the father (sperm kept from earlier years counts too)',
        'The colour was misread, or eggs or young were mixed up',
        'The trait is inherited otherwise than it would be made',
      ],
      animals,
      ...bound,
    };
  }
}

function told(
  { animals, loci }: Snapshot,
  { evidence = [] }: ProgramInput,
  records: readonly string[],
): ImportContradiction {
  const codes = new Set<string>();
  const sentences = records.map((id) => {
    const entry = evidence.find((each) => each.id === id);
    if (!entry || entry.kind === 'count') return 'Young were counted by colour';
    const code = animals.codes[Number(entry.animal)];
    codes.add(code);
    const free = freeFounderOf(id);
    if (free) return `${code} is set as a founder free of ${loci[free.locus].name}`;
    if (entry.kind === 'phenotype') {
      return `${code} ${entry.seen ? 'shows' : 'was looked at and does not show'} ${entry.trait}`;
    }
    if (entry.kind === 'claim') return `${code} was declared ${entry.genotypes.join(' or ')}`;
    return `${code} was tested`;
  });
  return { records: sentences, codes: [...codes] };
}
