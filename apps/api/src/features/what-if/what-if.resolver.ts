import { Args, ID, Mutation, Parent, Query, ResolveField, Resolver } from '@nestjs/graphql';
import {
  type AcceptSuppositionInput,
  acceptSuppositionSchema,
  type SuppositionInput,
  suppositionSchema,
} from '@scutewright/commands';
import { Access, Right } from '../../auth/access.js';
import { Accounts } from '../../auth/accounts.js';
import { ComputePool } from '../../compute/compute-pool.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { inferenceInput } from '../../compute/inference-input.js';
import { Database } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { Input } from '../../graphql/input-from-zod.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { type Supposed, supposedSnapshot } from '../../snapshot/supposed-snapshot.js';
import { today } from '../../snapshot/today.js';
import { Contradiction } from '../genes/genes.types.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { CommandPayload, readCommand } from '../history/command.types.js';
import { Kin } from '../lineage/kin.js';
import { readProgramRow } from '../programs/programs.resolver.js';
import { AcceptSupposition } from './accept-supposition.js';
import { type Answers, animalShift, changedAnimals } from './compare.js';
import { readSupposition } from './read-supposition.js';
import { repairsOf } from './repairs.js';
import { type AnimalShift, Repair, WhatIf } from './what-if.types.js';

const MOST_SHOWN = 20;
/** Suppositions of one revision that are kept with their answers. */
const MOST_KEPT = 8;

/** 'What if': the records as they would be, compared with now; and the same change written as one act. */
@Resolver(() => Contradiction)
export class WhatIfResolver {
  private readonly supposed = new WeakMap<Snapshot, Map<string, Snapshot>>();

  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly genes: GenesOfProgram,
    private readonly kin: Kin,
    private readonly pool: ComputePool,
    private readonly accounts: Accounts,
    private readonly acceptance: AcceptSupposition,
  ) {}

  @Access('READER')
  @Query(() => WhatIf, {
    description: 'What would follow if something were so: now and then, side by side',
  })
  async whatIf(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(suppositionSchema) input: SuppositionInput,
  ): Promise<WhatIf> {
    const snapshot = await this.snapshots.current(right);
    const { supposed, words, subject, mayBeWritten } = readSupposition(snapshot, input, 'input');
    const [now, then] = await Promise.all([
      this.answers(snapshot),
      this.answers(this.suppose(snapshot, supposed)),
    ]);
    const changed = changedAnimals(now, then);
    const others = changed.filter((animal) => animal !== subject);
    const shown = [...(subject === null ? [] : [subject]), ...others].slice(0, MOST_SHOWN);
    const shifts = shown.map((animal) => animalShift(now, then, animal));
    return {
      supposed: `${words}.`,
      sentence: whatIfSentence(shifts, changed.length, now.genes, then.genes),
      animals: shifts,
      changed: changed.length,
      contradictionsNow: now.genes.clashes.length,
      contradictionsThen: then.genes.clashes.length,
      mayBeWritten,
      revision: snapshot.revision,
    };
  }

  @Access('KEEPER')
  @Mutation(() => CommandPayload, { description: 'Writes what was supposed, as one act' })
  async acceptSupposition(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
    @Input(acceptSuppositionSchema) input: AcceptSuppositionInput,
  ): Promise<CommandPayload> {
    const snapshot = await this.snapshots.current(right);
    const read = readSupposition(snapshot, input.supposition, 'input.supposition');
    await this.acceptance.write(right, snapshot, read, input.commandId);
    return {
      command: await readCommand(this.database, this.accounts, right, input.commandId),
      program: await readProgramRow(this.database, right),
    };
  }

  @ResolveField(() => [Repair], {
    description: 'Acts that would each settle it, likeliest first, by assumed rates of slips',
  })
  async repairs(@Parent() { snapshot, recordIds }: Contradiction): Promise<Repair[]> {
    const program = inferenceInput(snapshot, today());
    const explanations = await this.pool.run('explain', { program, clash: recordIds });
    return repairsOf(snapshot, recordIds, explanations);
  }

  private async answers(snapshot: Snapshot): Promise<Answers> {
    const [genes, kin] = await Promise.all([
      this.genes.answerFor(snapshot),
      this.kin.inbreeding(snapshot),
    ]);
    return { snapshot, genes, kin };
  }

  /** The same supposition is one snapshot, so that what was computed of it is kept. */
  private suppose(snapshot: Snapshot, supposed: Supposed): Snapshot {
    const known = this.supposed.get(snapshot) ?? new Map<string, Snapshot>();
    this.supposed.set(snapshot, known);
    const key = JSON.stringify(supposed);
    const found = known.get(key) ?? supposedSnapshot(snapshot, supposed);
    known.delete(key);
    known.set(key, found);
    for (const old of known.keys()) {
      if (known.size <= MOST_KEPT) break;
      known.delete(old);
    }
    return found;
  }
}

function whatIfSentence(
  [subject]: readonly AnimalShift[],
  changed: number,
  now: GenesAnswer,
  then: GenesAnswer,
): string {
  const parts: string[] = [];
  if (now.clashes.length !== then.clashes.length) {
    parts.push(
      then.clashes.length === 0
        ? 'no records would contradict each other any more'
        : `${then.clashes.length} sets of records would contradict each other instead of ${now.clashes.length}`,
    );
  }
  if (changed === 0 && parts.length === 0) return 'Nothing would change by more than half in 100.';
  const moved = subject && Math.abs(subject.inbreedingNow - subject.inbreedingThen) > 1e-9;
  if (moved) {
    parts.push(
      `F of ${subject.animal.code} would be ${subject.inbreedingThen.toFixed(3)} instead of ${subject.inbreedingNow.toFixed(3)}`,
    );
  }
  parts.push(changed === 1 ? 'one animal would change' : `${changed} animals would change`);
  const sentence = parts.join('; ');
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
}
