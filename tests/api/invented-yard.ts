import { randomUUID } from 'node:crypto';
import { expect } from '@jest/globals';
import {
  addAnimal,
  asAdmin,
  type Client,
  type Data,
  newProgram,
  startService,
  type TestService,
} from './service.js';

export const RECORD = `mutation($programId: ID!, $input: RecordEntriesInput!) {
  recordEntries(programId: $programId, input: $input) { answers { id state sentence remarks place remedy } }
}`;

const ANIMAL = `query($programId: ID!, $code: String) {
  animal(programId: $programId, code: $code) {
    code sex { sex } origin hatched { text } clutch { code }
    sire { candidates { animal { code } probability basis } unrecorded }
    dam { candidates { animal { code } probability basis } }
  }
}`;

/** Every table that a record may go to. */
const TABLES = [
  'animal',
  'clutch',
  'candidate',
  'stay',
  'observation',
  'lot',
  'lot_change',
  'transfer',
  'egg_batch',
  'change',
  'command',
];

export interface EntryAnswer {
  id: string;
  state: string;
  sentence: string;
  remarks: string[];
  place: string | null;
  remedy: string | null;
}

/** An invented yard behind the real service: females F1, F2, males M1, M2, M9, pens North, South and Apart (quarantine). */
export class InventedYard {
  private constructor(
    readonly service: TestService,
    readonly owner: Client,
    readonly programId: string,
    /** Of its first animals, by code. */
    readonly ids: ReadonlyMap<string, string>,
  ) {}

  static async start(name: string): Promise<InventedYard> {
    const service = await startService();
    const owner = await service.owner();
    const programId = await newProgram(owner, name);
    const ids = new Map<string, string>();
    for (const [code, sex, hatched] of [
      ['F1', 'FEMALE', '1995'],
      ['F2', 'FEMALE', '1996'],
      ['M1', 'MALE', '1994'],
      ['M2', 'MALE', '1994'],
      ['M9', 'MALE', '2001'],
    ]) {
      ids.set(code, await addAnimal(owner, programId, { code, sex, hatched, origin: 'ACQUIRED' }));
    }
    for (const pen of ['North', 'South', 'Apart']) {
      await owner.data(
        'mutation($programId: ID!, $input: AddPenInput!) { addPen(programId: $programId, input: $input) { pen { id } } }',
        { programId, input: { commandId: randomUUID(), name: pen, isQuarantine: pen === 'Apart' } },
      );
    }
    return new InventedYard(service, owner, programId, ids);
  }

  async send(entries: object[], keepUndecided = false): Promise<EntryAnswer[]> {
    const { programId } = this;
    const input = {
      entries: entries.map((entry) => ({ id: randomUUID(), ...entry })),
      keepUndecided,
    };
    return (await this.owner.data(RECORD, { programId, input })).recordEntries.answers;
  }

  async write(entry: object): Promise<EntryAnswer> {
    const [answer] = await this.send([entry]);
    expect(answer).toMatchObject({ state: 'WRITTEN' });
    return answer;
  }

  /** Expects a sentence with its place and a remedy, and every table as it was. */
  async refused(entry: object, words: RegExp, place: string): Promise<void> {
    const before = await this.rows();
    const [answer] = await this.send([entry]);
    expect(answer.state).toBe('NEEDS_DECISION');
    expect(answer.sentence).toMatch(words);
    expect(answer.place).toBe(place);
    expect(answer.remedy).toMatch(/\w+ .*\./);
    expect(await this.rows()).toEqual(before);
  }

  async animal(code: string): Promise<Data> {
    return (await this.owner.data(ANIMAL, { programId: this.programId, code })).animal;
  }

  /** How many rows each table of records holds. */
  rows(): Promise<Data> {
    return asAdmin(this.service.databaseName, async (client) => {
      const counts = await client.query(
        TABLES.map((table) => `SELECT '${table}' AS table, count(*)::int FROM ${table}`).join(
          ' UNION ALL ',
        ),
      );
      return counts.rows;
    });
  }
}
