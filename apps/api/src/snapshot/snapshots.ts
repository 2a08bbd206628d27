import { Injectable } from '@nestjs/common';
import { ComputePool } from '../compute/compute-pool.js';
import { Database } from '../db/database.js';
import { inProgram, type ProgramAccess, readProgram } from '../db/in-program.js';
import { readSnapshot } from './read-snapshot.js';
import type { Snapshot } from './snapshot.js';
import { withParents } from './with-parents.js';

const KEPT = 16;

/**
 * The snapshots of the programs in use. Every request asks for the program's revision (one
 * row); an older snapshot is dropped and read anew, never patched. So no process, however
 * many there are, answers from before a write that was committed.
 */
@Injectable()
export class Snapshots {
  private readonly kept = new Map<string, { revision: number; snapshot: Promise<Snapshot> }>();

  constructor(
    private readonly database: Database,
    private readonly pool: ComputePool,
  ) {}

  async current(access: ProgramAccess): Promise<Snapshot> {
    const { programId } = access;
    const { revision } = await inProgram(this.database, access, (tx) =>
      tx.program.findUniqueOrThrow({ where: { id: programId }, select: { revision: true } }),
    );
    const known = this.kept.get(programId);
    if (known && known.revision >= revision) {
      this.kept.delete(programId);
      this.kept.set(programId, known);
      return known.snapshot;
    }
    // Several requests for the same new revision share one reading.
    const reading = readProgram(this.database, access, (client) =>
      readSnapshot(client, programId),
    ).then((read) => withParents(read, (input) => this.pool.run('fathers', input)));
    const entry = { revision, snapshot: reading };
    this.kept.set(programId, entry);
    reading.then(
      (snapshot) => {
        entry.revision = snapshot.revision;
      },
      () => {
        if (this.kept.get(programId) === entry) this.kept.delete(programId);
      },
    );
    for (const key of this.kept.keys()) {
      if (this.kept.size <= KEPT) break;
      this.kept.delete(key);
    }
    return reading;
  }
}
