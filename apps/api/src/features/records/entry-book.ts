import { randomUUID } from 'node:crypto';
import { dayText, nearest, type PartialDate } from '@scutewright/basics';
import type { Tx } from '../../db/database.js';
import { dateColumns } from '../../db/date-columns.js';
import { UserError } from '../../graphql/errors.js';
import { latestToday, today } from '../../snapshot/today.js';

const DAY_MS = 86_400_000;

export interface Named {
  readonly id: string;
  readonly code: string;
}
export interface BookAnimal extends Named {
  readonly species: string;
  readonly clutchId: string | null;
  readonly hatchedEarliest: Date | null;
}

/** What an entry is written with: the open transaction, its day, and the names of things looked up. */
export class EntryBook {
  constructor(
    readonly tx: Tx,
    readonly programId: string,
    readonly entryId: string,
    /** When it happened; null where nobody said. */
    readonly on: PartialDate | null,
    readonly note: string | null,
    /** Who wrote it, as the history names them. */
    readonly kind: string,
  ) {}

  /** Facts beside what was written that the writer should look at. */
  readonly remarks: string[] = [];

  /** 'on 2026-05-03', or nothing. */
  get when(): string {
    return this.on ? ` on ${this.on.text}` : '';
  }

  fault(message: string, place: string, remedy: string, thing?: string): UserError {
    return new UserError('BAD_USER_INPUT', message, {
      place: `${this.kind}.${place}`,
      remedy,
      thing,
    });
  }

  /** The day of a thing that was done; refuses one that is still to come. */
  refuseFuture(what: string): void {
    // East of Greenwich the next day has begun: what was done there this morning is not to come.
    if (this.on && this.on.earliest > latestToday()) {
      throw new UserError(
        'BAD_USER_INPUT',
        `${what} on ${this.on.text}: that day is still to come.`,
        {
          place: 'on',
          thing: this.on.text,
          remedy: `Write the day it happened; today is ${dayText(today())}.`,
        },
      );
    }
  }

  animal(ref: string, place: string): Promise<BookAnimal> {
    return this.find('animal', ref, place, (where) =>
      this.tx.animal.findFirst({
        where,
        select: { id: true, code: true, species: true, clutchId: true, hatchedEarliest: true },
      }),
    );
  }

  async animals(refs: readonly string[], place: string): Promise<BookAnimal[]> {
    const { programId } = this;
    const ids = refs.filter(isId);
    const rows = await this.tx.animal.findMany({
      where: { programId, OR: [{ id: { in: ids } }, { code: { in: [...refs] } }] },
      select: { id: true, code: true, species: true, clutchId: true, hatchedEarliest: true },
    });
    const byRef = new Map(
      rows.flatMap((row) => [[row.id, row] as const, [row.code, row] as const]),
    );
    const found: BookAnimal[] = [];
    for (const [i, ref] of refs.entries()) {
      found.push(byRef.get(ref) ?? (await this.animal(ref, `${place}.${i}`)));
    }
    return [...new Map(found.map((row) => [row.id, row])).values()];
  }

  pen(ref: string, place: string): Promise<Named> {
    return this.find('pen', ref, place, async (where) => {
      const row = await this.tx.pen.findFirst({ where, select: { id: true, name: true } });
      return row && { id: row.id, code: row.name };
    });
  }

  lot(ref: string, place: string): Promise<Named & { species: string }> {
    return this.find('lot', ref, place, (where) =>
      this.tx.lot.findFirst({ where, select: { id: true, code: true, species: true } }),
    );
  }

  trait(ref: string, place: string): Promise<Named> {
    return this.find('trait', ref, place, async (where) => {
      const row = await this.tx.trait.findFirst({ where, select: { id: true, name: true } });
      return row && { id: row.id, code: row.name };
    });
  }

  locus(ref: string, place: string): Promise<Named & { definition: unknown }> {
    return this.find('gene', ref, place, (where) =>
      this.tx.locus.findFirst({ where, select: { id: true, code: true, definition: true } }),
    );
  }

  clutch(ref: string, place: string) {
    return this.find('clutch', ref, place, (where) =>
      this.tx.clutch.findFirst({
        where,
        select: {
          id: true,
          code: true,
          eggs: true,
          broken: true,
          notSet: true,
          species: true,
          laid: true,
          laidEarliest: true,
        },
      }),
    );
  }

  /** Writes an observation of this entry's day. */
  async observe(
    kind: string,
    value: object,
    about: {
      animalId?: string;
      otherAnimalId?: string;
      clutchId?: string;
      penId?: string;
      lotId?: string;
      traitId?: string;
      locusId?: string;
      method?: string | null;
    },
  ): Promise<void> {
    await this.tx.observation.create({
      data: {
        programId: this.programId,
        id: randomUUID(),
        kind,
        value,
        note: this.note,
        ...dateColumns('date', this.on),
        ...about,
      },
    });
  }

  private async find<Row>(
    word: 'animal' | 'pen' | 'lot' | 'trait' | 'gene' | 'clutch',
    ref: string,
    place: string,
    look: (where: never) => Promise<Row | null>,
  ): Promise<Row> {
    const { programId } = this;
    const isNamed = word === 'pen' || word === 'trait';
    const where = isId(ref)
      ? { programId, id: ref }
      : { programId, [isNamed ? 'name' : 'code']: ref };
    const row = await look(where as never);
    if (row) return row;
    const near = isId(ref) ? [] : nearest(ref, await this.names(word));
    const ask =
      near.length > 0 ? ` Did you mean ${near.map((each) => `'${each}'`).join(' or ')}?` : '';
    throw new UserError(
      'NOT_FOUND',
      `There is no ${word} '${isId(ref) ? 'of this id' : ref}'.${ask}`,
      {
        place: `${this.kind}.${place}`,
        thing: ref,
        remedy:
          near.length > 0
            ? 'Choose one of these, or add it first.'
            : 'Look it up in its list, or add it first.',
      },
    );
  }

  private async names(word: string): Promise<string[]> {
    const { tx, programId } = this;
    const where = { programId };
    switch (word) {
      case 'pen':
        return (await tx.pen.findMany({ where, select: { name: true } })).map(({ name }) => name);
      case 'trait':
        return (await tx.trait.findMany({ where, select: { name: true } })).map(({ name }) => name);
      case 'lot':
        return (await tx.lot.findMany({ where, select: { code: true } })).map(({ code }) => code);
      case 'gene':
        return (await tx.locus.findMany({ where, select: { code: true } })).map(({ code }) => code);
      case 'clutch':
        return (await tx.clutch.findMany({ where, select: { code: true } })).flatMap(
          ({ code }) => code ?? [],
        );
      default:
        return (await tx.animal.findMany({ where, select: { code: true } })).map(
          ({ code }) => code,
        );
    }
  }
}

export function isId(text: string): boolean {
  return /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i.test(text);
}

export function dayOf(date: Date): number {
  return Math.round(date.getTime() / DAY_MS);
}

/** '3 eggs', '1 egg'. */
export function counted(count: number, word: string, plural = `${word}s`): string {
  return `${count.toLocaleString('en')} ${count === 1 ? word : plural}`;
}

/** 'A, B and 3 more'. */
export function listed(names: readonly string[]): string {
  if (names.length <= 4) return names.join(', ');
  return `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;
}
