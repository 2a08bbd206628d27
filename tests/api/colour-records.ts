import { asAdmin, type TestService } from './service.js';

/** A program's one recessive trait and its looks, written behind the API. */
export class ColourRecords {
  constructor(
    private readonly service: TestService,
    private readonly programId: string,
  ) {}

  /** The gene `pl` (N, p at 0.1 among founders) and the trait `pale` of two copies. */
  define(): Promise<void> {
    return this.write(
      `INSERT INTO locus VALUES ($1, gen_random_uuid(), 'pl', 'pl', '{"alleles": ["N", "p"], "frequencies": {"N": 0.9, "p": 0.1}}')`,
      `INSERT INTO trait VALUES ($1, gen_random_uuid(), 'pale', 'pale', '{"when": {"locus": "pl", "genotypes": ["p/p"]}}')`,
    );
  }

  /** Somebody looked at the animal of this code. */
  look(code: string, shows: boolean): Promise<void> {
    return this.write(
      `INSERT INTO observation (program_id, id, kind, animal_id, value)
       SELECT program_id, gen_random_uuid(), 'colour-check', id,
         jsonb_build_object('seen', ${shows ? '(SELECT jsonb_agg(t.id) FROM trait t WHERE t.program_id = $1)' : "'[]'::jsonb"})
       FROM animal WHERE program_id = $1 AND code = '${code}'`,
    );
  }

  private write(...statements: string[]): Promise<void> {
    return asAdmin(this.service.databaseName, async (client) => {
      await client.query('BEGIN');
      await client.query(
        "SELECT set_config('app.command_id', gen_random_uuid()::text, true), set_config('app.program_id', $1, true)",
        [this.programId],
      );
      for (const statement of statements) await client.query(statement, [this.programId]);
      await client.query('UPDATE program SET revision = revision + 1 WHERE id = $1', [
        this.programId,
      ]);
      await client.query('COMMIT');
    });
  }
}
