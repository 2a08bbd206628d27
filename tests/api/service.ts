import { type ChildProcess, fork } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { firstRun } from '@scutewright/api/first-run';
import pg from 'pg';

/** The real service over a database of its own, cloned from the migrated template. */
export interface TestService {
  readonly databaseUrl: string;
  readonly databaseName: string;
  readonly url: string;
  /** A second API process over the same database. */
  another(): Promise<string>;
  /** A client of the first owner, signed in by the one-time link. */
  owner(): Promise<Client>;
  stop(): Promise<void>;
}

const adminUrl = process.env.TEST_ADMIN_URL ?? '';
const serviceUrl = process.env.TEST_SERVICE_URL ?? '';
const main = fileURLToPath(import.meta.resolve('@scutewright/api/main'));

/** A fresh database with all tables and nothing in it. */
export async function freshDatabase(): Promise<{ name: string; url: string }> {
  if (!adminUrl) throw new Error('Run the tests by npm test: it starts their PostgreSQL');
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  const admin = new pg.Client({ connectionString: adminUrl });
  await admin.connect();
  await admin.query(`CREATE DATABASE ${name} TEMPLATE scutewright_template OWNER scutewright`);
  await admin.end();
  return { name, url: databaseUrl(serviceUrl, name) };
}

export function databaseUrl(url: string, name: string): string {
  const parsed = new URL(url);
  parsed.pathname = `/${name}`;
  return parsed.href;
}

/** A connection as the superuser: sees everything, for looking behind the API. */
export async function asAdmin<Result>(
  name: string,
  work: (client: pg.Client) => Promise<Result>,
): Promise<Result> {
  const client = new pg.Client({ connectionString: databaseUrl(adminUrl, name) });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

export async function startService(
  env: NodeJS.ProcessEnv = {},
  options = { demo: false },
): Promise<TestService> {
  const { name, url: database } = await freshDatabase();
  const { linkSecret } = await firstRun(database, options);
  const processes: ChildProcess[] = [];
  const launch = async (): Promise<string> => {
    const child = fork(main, {
      env: {
        ...process.env,
        DATABASE_URL: database,
        PORT: '0',
        SCUTEWRIGHT_BIND: '127.0.0.1',
        ...env,
      },
      execArgv: [],
    });
    processes.push(child);
    const port = await new Promise<number>((resolve, reject) => {
      child.once('message', (message) => resolve((message as { port: number }).port));
      child.once('exit', (code) => reject(new Error(`The service ended with code ${code}`)));
    });
    return `http://127.0.0.1:${port}`;
  };
  const url = await launch();
  let owner: Promise<Client> | undefined;
  return {
    databaseUrl: database,
    databaseName: name,
    url,
    another: launch,
    owner() {
      owner ??= enter(url, linkSecret ?? '');
      return owner;
    },
    async stop() {
      await Promise.all(
        processes.map(async (child) => {
          if (child.exitCode !== null || child.signalCode !== null) return;
          const ended = new Promise((resolve) => child.once('exit', resolve));
          child.kill('SIGTERM');
          await ended;
        }),
      );
    },
  };
}

export interface ApiError {
  message: string;
  extensions: { code: string; thing?: string; place?: string; remedy?: string };
}

export interface Answer {
  status: number;
  data: Data;
  errors?: ApiError[];
}
/** JSON as it came: tests read what they asked for, and a wrong guess fails the test by itself. */
export type Data = ReturnType<typeof JSON.parse>;

/** A browser, as far as the API can tell: keeps its cookie. */
export class Client {
  private cookie = '';

  constructor(
    readonly url: string,
    cookie = '',
  ) {
    this.cookie = cookie;
  }

  /** The same browser talking to another process. */
  at(url: string): Client {
    return new Client(url, this.cookie);
  }

  async ask(query: string, variables: object = {}): Promise<Answer> {
    const response = await fetch(`${this.url}/graphql`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: this.cookie },
      body: JSON.stringify({ query, variables }),
    });
    const set = response.headers.get('set-cookie');
    if (set) this.cookie = set.split(';')[0];
    const body = (await response.json()) as Omit<Answer, 'status'>;
    return { status: response.status, ...body };
  }

  /** The cookie header of this browser. */
  get cookies(): string {
    return this.cookie;
  }

  /** Sends a file; answers the upload's id. */
  async upload(programId: string, bytes: Uint8Array | string): Promise<{ uploadId: string }> {
    const response = await fetch(`${this.url}/files/${programId}?name=test.csv`, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream', cookie: this.cookie },
      body: typeof bytes === 'string' ? bytes : Uint8Array.from(bytes),
    });
    if (response.status !== 201) throw new Error(await response.text());
    return (await response.json()) as { uploadId: string };
  }

  /** Answers the data; throws where there is any error. */
  async data(query: string, variables: object = {}): Promise<Data> {
    const answer = await this.ask(query, variables);
    if (answer.errors) throw new Error(JSON.stringify(answer.errors, null, 2));
    return answer.data;
  }

  /** The data when nothing of it is still being worked out: asks for `areGenesPending` and asks again while it is. */
  async settled(query: string, variables: object = {}): Promise<Data> {
    for (;;) {
      const data = await this.data(query, variables);
      if (!JSON.stringify(data).includes('"areGenesPending":true')) return data;
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }

  /** Answers the first error; throws where there is none. */
  async refusal(query: string, variables: object = {}): Promise<ApiError> {
    const answer = await this.ask(query, variables);
    if (!answer.errors) throw new Error(`Expected a refusal: ${JSON.stringify(answer.data)}`);
    return answer.errors[0];
  }
}

/** A new browser that came in by a one-time link. */
export async function enter(url: string, token: string): Promise<Client> {
  const client = new Client(url);
  await client.data('mutation($token: String!) { enterByLink(token: $token) { account { id } } }', {
    token,
  });
  return client;
}

/** A member of the program with this role, invited by the owner. */
export async function invited(owner: Client, programId: string, role: string): Promise<Client> {
  const data = await owner.data(
    `mutation($programId: ID!, $input: InviteMemberInput!) {
      inviteMember(programId: $programId, input: $input) { link }
    }`,
    { programId, input: { commandId: randomUUID(), role } },
  );
  return enter(owner.url, data.inviteMember.link.split('#token=')[1]);
}

/** A new program of this client; answers its id. */
export async function newProgram(client: Client, name = 'Saltmarsh'): Promise<string> {
  const data = await client.data(
    'mutation($input: CreateProgramInput!) { createProgram(input: $input) { id } }',
    { input: { commandId: randomUUID(), name } },
  );
  return data.createProgram.id;
}

/** Adds an animal; answers its id. */
export async function addAnimal(
  client: Client,
  programId: string,
  animal: { code: string; [field: string]: unknown },
): Promise<string> {
  const data = await client.data(
    `mutation($programId: ID!, $input: AddAnimalInput!) {
      addAnimal(programId: $programId, input: $input) { animal { id } }
    }`,
    { programId, input: { commandId: randomUUID(), species: 'Testudo hermanni', ...animal } },
  );
  return data.addAnimal.animal.id;
}
