import { Injectable } from '@nestjs/common';
import { ComputePool } from '../compute/compute-pool.js';
import { Database } from '../db/database.js';
import { inProgram, type ProgramAccess, readProgram } from '../db/in-program.js';
import { KeptParts } from './kept-parts.js';
import { type ProgramRows, readRows, readRowsAnew } from './program-rows.js';
import type { Snapshot } from './snapshot.js';
import { snapshotOfRows } from './snapshot-of-rows.js';
import { type ReadSnapshot, withParents } from './with-parents.js';

const KEPT = 16;

/** A snapshot with what it was made of, from which the next one is made. */
interface Reading extends ReadSnapshot {
  readonly rows: ProgramRows;
  readonly parts: KeptParts;
}

/**
 * The snapshots of the programs in use. Every request asks for the program's revision (one row); an older snapshot is given to
 * nobody. So no process, however many there are, answers from before a write that was committed. The next snapshot takes over
 * what the acts since the last one did not touch: rows (`program-rows.ts`), parts made of them (`kept-parts.ts`), possible
 * fathers (`with-parents.ts`). It is equal to one read from nothing (`tests/api/snapshot.test.ts`).
 */
@Injectable()
export class Snapshots {
  private readonly kept = new Map<string, { revision: number; reading: Promise<Reading> }>();

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
      return (await known.reading).snapshot;
    }
    // Several requests for the same new revision share one reading.
    const reading = this.read(access, known?.reading);
    const entry = { revision, reading };
    this.kept.set(programId, entry);
    reading.then(
      ({ snapshot }) => {
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
    return (await reading).snapshot;
  }

  private async read(access: ProgramAccess, earlier?: Promise<Reading>): Promise<Reading> {
    // A reading that failed was told to whoever asked for it; this one begins from nothing.
    const before = await earlier?.catch(() => undefined);
    const rows = await readProgram(this.database, access, (client) =>
      before ? readRowsAnew(client, before.rows) : readRows(client),
    );
    const parts = new KeptParts(before?.parts);
    const read = snapshotOfRows(rows, parts);
    const snapshot = await withParents(read, (input) => this.pool.run('fathers', input), before);
    return { rows, parts, read, snapshot };
  }
}
