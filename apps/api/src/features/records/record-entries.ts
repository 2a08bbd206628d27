import { Injectable } from '@nestjs/common';
import { parsePartialDate } from '@scutewright/basics';
import {
  type Entry,
  type EntryKind,
  type EntryOf,
  entrySchema,
  kindOf,
  type RecordEntriesInput,
  type SettleEntryInput,
} from '@scutewright/commands';
import { command } from '../../db/command.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { check } from '../../graphql/input-from-zod.js';
import { EntryBook } from './entry-book.js';
import type { EntryAnswer } from './records.types.js';
import { writeEggs, writeLaid, writeSet, writeWarmth } from './write-clutches.js';
import { writeDied, writeGone, writeTransferred } from './write-departures.js';
import { writeLot } from './write-lots.js';
import { writeBreach, writeMove, writeSeen, writeStayed } from './write-moves.js';
import {
  writeColour,
  writeHealth,
  writeIncident,
  writeMarked,
  writeMating,
  writeMeasured,
  writeNoted,
  writeSaid,
  writeSexed,
  writeTested,
} from './write-observations.js';
import { writeFound, writeHatched } from './write-young.js';

/** Writes an entry of its kind; answers the sentence for the history. */
const WRITERS: { [Kind in EntryKind]: (book: EntryBook, entry: EntryOf<Kind>) => Promise<string> } =
  {
    move: writeMove,
    stayed: writeStayed,
    seen: writeSeen,
    breach: writeBreach,
    mating: writeMating,
    laid: writeLaid,
    set: writeSet,
    warmth: writeWarmth,
    eggs: writeEggs,
    hatched: writeHatched,
    found: writeFound,
    lot: writeLot,
    sexed: writeSexed,
    colour: writeColour,
    measured: writeMeasured,
    marked: writeMarked,
    tested: writeTested,
    said: writeSaid,
    health: writeHealth,
    incident: writeIncident,
    died: writeDied,
    gone: writeGone,
    transferred: writeTransferred,
    noted: writeNoted,
  };

/** The one way in for everything that happens in a yard. Each entry is one act of its own: written whole or not at all. */
@Injectable()
export class RecordEntries {
  constructor(private readonly database: Database) {}

  /** In the order given; one that cannot be written does not hold up the others. */
  async record(right: ProgramAccess, input: RecordEntriesInput): Promise<EntryAnswer[]> {
    const written = await this.alreadyWritten(right, input.entries);
    const answers: EntryAnswer[] = [];
    for (const entry of input.entries) {
      const earlier = written.get(entry.id);
      if (earlier !== undefined) {
        answers.push({
          id: entry.id,
          state: 'DUPLICATE',
          sentence: earlier,
          remarks: [],
          place: null,
          remedy: null,
        });
        continue;
      }
      const answer = await this.write(right, entry, input.keepUndecided ?? false);
      if (answer.state === 'WRITTEN') written.set(entry.id, answer.sentence);
      answers.push(answer);
    }
    return answers;
  }

  /** Tries an entry of the inbox again, or drops it. */
  async settle(right: ProgramAccess, input: SettleEntryInput): Promise<EntryAnswer | null> {
    const { programId } = right;
    const key = { programId_id: { programId, id: input.entryId } };
    const waiting = await inProgram(this.database, right, (tx) =>
      tx.undecidedEntry.findUnique({ where: key }),
    );
    if (!waiting)
      throw notFound('such entry waiting', 'input.entryId', 'Somebody settled it meanwhile.');
    if (input.isDropped) {
      await inProgram(this.database, right, (tx) => tx.undecidedEntry.delete({ where: key }));
      return null;
    }
    const [answer] = await this.record(right, {
      entries: [check(entrySchema, waiting.entry, 'entry')],
      keepUndecided: true,
    });
    return answer;
  }

  private async alreadyWritten(
    right: ProgramAccess,
    entries: readonly Entry[],
  ): Promise<Map<string, string>> {
    const { programId, accountId } = right;
    const known = await inProgram(this.database, right, (tx) =>
      tx.command.findMany({
        where: {
          programId,
          accountId,
          id: { in: entries.map(({ id }) => id) },
          kind: { startsWith: 'entry-' },
        },
        select: { id: true, sentence: true },
      }),
    );
    return new Map(known.map(({ id, sentence }) => [id, sentence]));
  }

  private async write(
    right: ProgramAccess,
    entry: Entry,
    keepUndecided: boolean,
  ): Promise<EntryAnswer> {
    const kind = kindOf(entry);
    const { programId } = right;
    try {
      const result = await command(
        this.database,
        right,
        { id: entry.id, kind: `entry-${kind}` },
        async (tx) => {
          const on = entry.on ? parsePartialDate(entry.on) : null;
          const book = new EntryBook(tx, programId, entry.id, on, entry.note || null, kind);
          const writer = WRITERS[kind] as (book: EntryBook, entry: unknown) => Promise<string>;
          const sentence = await writer(book, entry[kind]);
          await tx.undecidedEntry.deleteMany({ where: { programId, id: entry.id } });
          return { sentence, result: { sentence, remarks: book.remarks } };
        },
      );
      return { id: entry.id, state: 'WRITTEN', ...result, place: null, remedy: null };
    } catch (error) {
      if (!(error instanceof UserError)) throw error;
      const { place, remedy } = error.extensions as { place?: string; remedy: string };
      if (keepUndecided) await this.keep(right, entry, error.message, remedy);
      return {
        id: entry.id,
        state: 'NEEDS_DECISION',
        sentence: error.message,
        remarks: [],
        place: place ?? null,
        remedy,
      };
    }
  }

  private async keep(
    right: ProgramAccess,
    entry: Entry,
    message: string,
    remedy: string,
  ): Promise<void> {
    const { programId, accountId } = right;
    const row = { entry: entry as object, message, remedy };
    await inProgram(this.database, right, (tx) =>
      tx.undecidedEntry.upsert({
        where: { programId_id: { programId, id: entry.id } },
        create: { programId, id: entry.id, accountId, ...row },
        update: row,
      }),
    );
  }
}
