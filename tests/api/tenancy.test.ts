import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  buildSchema,
  type GraphQLArgument,
  type GraphQLInputType,
  getNamedType,
  isEnumType,
  isInputObjectType,
  isLeafType,
  isListType,
  isNonNullType,
} from 'graphql';
import {
  type ApiError,
  Client,
  invited,
  newProgram,
  startService,
  type TestService,
} from './service.js';

// Who may call each operation. A new operation without an entry fails this test, and so the
// build: decide its rule, write it here, and give the resolver the same @Access.
const RULES: Record<string, 'anyone' | 'account' | 'READER' | 'KEEPER' | 'OWNER'> = {
  'Query.viewer': 'anyone',
  'Query.program': 'READER',
  'Query.animals': 'READER',
  'Query.animal': 'READER',
  'Query.suggestCode': 'KEEPER',
  'Query.history': 'READER',
  'Query.exportProgram': 'READER',
  'Query.genotypeOdds': 'READER',
  'Query.crossOdds': 'READER',
  'Query.suggestPairings': 'READER',
  'Query.seasonPairings': 'READER',
  'Query.geneWhy': 'READER',
  'Query.fatherWhy': 'READER',
  'Query.whatIf': 'READER',
  'Mutation.acceptSupposition': 'KEEPER',
  'Query.lineage': 'READER',
  'Query.kinPaths': 'READER',
  'Query.kinSupposed': 'READER',
  'Query.relatedness': 'READER',
  'Query.saleCheck': 'READER',
  'Query.readBuyerFile': 'READER',
  'Query.penConflicts': 'READER',
  'Query.pensIfMoved': 'READER',
  'Query.importContradictions': 'KEEPER',
  'Query.mendedFile': 'KEEPER',
  'Query.photos': 'READER',
  'Mutation.addPhoto': 'KEEPER',
  'Mutation.removePhoto': 'KEEPER',
  'Query.species': 'READER',
  'Mutation.setSpeciesFact': 'KEEPER',
  'Query.definitions': 'READER',
  'Query.checkTrait': 'READER',
  'Query.programHealth': 'READER',
  'Query.today': 'READER',
  'Query.job': 'account',
  'Mutation.cancelJob': 'account',
  'Mutation.startImport': 'KEEPER',
  'Mutation.startRestore': 'account',
  'Query.backups': 'OWNER',
  'Mutation.startBackup': 'OWNER',
  'Mutation.importProgramFile': 'KEEPER',
  'Mutation.signIn': 'anyone',
  'Mutation.enterByLink': 'anyone',
  'Mutation.setPassword': 'account',
  'Mutation.signOut': 'anyone',
  'Mutation.createProgram': 'account',
  'Mutation.inviteMember': 'OWNER',
  'Mutation.changeRole': 'OWNER',
  'Mutation.removeMember': 'OWNER',
  'Mutation.addAnimal': 'KEEPER',
  'Mutation.editAnimal': 'KEEPER',
  'Mutation.removeAnimal': 'KEEPER',
  'Mutation.addLocus': 'KEEPER',
  'Mutation.editLocus': 'KEEPER',
  'Mutation.removeLocus': 'KEEPER',
  'Mutation.setLocusPair': 'KEEPER',
  'Mutation.removeLocusPair': 'KEEPER',
  'Mutation.addTrait': 'KEEPER',
  'Mutation.editTrait': 'KEEPER',
  'Mutation.removeTrait': 'KEEPER',
  'Mutation.undo': 'KEEPER',
  'Mutation.recordEntries': 'KEEPER',
  'Mutation.settleEntry': 'KEEPER',
  'Query.waitingEntries': 'KEEPER',
  'Query.records': 'READER',
  'Query.yard': 'READER',
  'Query.roundCopy': 'READER',
  'Query.stockBook': 'READER',
  'Query.labelAddress': 'READER',
  'Query.lots': 'READER',
  'Query.clutches': 'READER',
  'Query.clutch': 'READER',
  'Query.correctionReach': 'KEEPER',
  'Query.growth': 'READER',
  'Query.seasonSettings': 'READER',
  'Mutation.addPen': 'KEEPER',
  'Mutation.editPen': 'KEEPER',
  'Mutation.removePen': 'KEEPER',
  'Mutation.correctStay': 'KEEPER',
  'Mutation.editClutch': 'KEEPER',
  'Mutation.removeClutch': 'KEEPER',
  'Mutation.changeSeasonSettings': 'OWNER',
};

const schema = buildSchema(
  readFileSync(new URL('../../../apps/api/schema.graphql', import.meta.url), 'utf8'),
);
const operations = [schema.getQueryType(), schema.getMutationType()].flatMap((type) =>
  Object.values(type?.getFields() ?? {}).map((field) => ({
    name: `${type?.name}.${field.name}`,
    kind: type?.name.toLowerCase(),
    field,
  })),
);

let service: TestService;
let programId: string;
let people: Record<'stranger' | 'ownerElsewhere' | 'READER' | 'KEEPER' | 'OWNER', Client>;

beforeAll(async () => {
  service = await startService();
  const owner = await service.owner();
  programId = await newProgram(owner, 'Here');
  const elsewhere = await invited(owner, await newProgram(owner, 'Elsewhere'), 'OWNER');
  people = {
    stranger: new Client(service.url),
    ownerElsewhere: elsewhere,
    READER: await invited(owner, programId, 'READER'),
    KEEPER: await invited(owner, programId, 'KEEPER'),
    OWNER: owner,
  };
});
afterAll(() => service.stop());

const A_UUID = '3f1c7d1e-7a57-4c5e-9d53-6f2a3a1f0b11';

/** Some value of the type: enough to get past validation and to the rule. */
function sample(type: GraphQLInputType, name: string): unknown {
  if (isNonNullType(type)) return sample(type.ofType, name);
  if (isListType(type)) return [];
  if (isEnumType(type)) return type.getValues()[0].name;
  if (isInputObjectType(type)) {
    const required = Object.values(type.getFields()).filter((field) => isNonNullType(field.type));
    return Object.fromEntries(
      required.map((field) => [field.name, sample(field.type, field.name)]),
    );
  }
  if (name === 'email') return 'somebody@example.org';
  return { ID: A_UUID, String: 'a long enough sample', Int: 1, Float: 0.5, Boolean: true }[
    type.name
  ];
}

async function attempt(
  client: Client,
  operation: (typeof operations)[number],
): Promise<ApiError | null> {
  const { field, kind } = operation;
  const args = field.args.filter(
    (arg: GraphQLArgument) => isNonNullType(arg.type) && arg.defaultValue === undefined,
  );
  const declared = args.map((arg) => `$${arg.name}: ${arg.type}`).join(', ');
  const given = args.map((arg) => `${arg.name}: $${arg.name}`).join(', ');
  const variables = Object.fromEntries(
    args.map((arg) => [
      arg.name,
      arg.name === 'programId' ? programId : sample(arg.type, arg.name),
    ]),
  );
  const selection = isLeafType(getNamedType(field.type)) ? '' : '{ __typename }';
  const answer = await client.ask(
    `${kind} ${declared && `(${declared})`} { ${field.name}${given && `(${given})`} ${selection} }`,
    variables,
  );
  return answer.errors?.[0] ?? null;
}

const refused = (error: ApiError | null) =>
  error !== null &&
  (error.extensions.code === 'FORBIDDEN' ||
    (error.extensions.code === 'NOT_FOUND' && error.extensions.place === 'programId'));

describe('every operation of the API', () => {
  it('has a rule here', () => {
    expect(operations.map(({ name }) => name).sort()).toEqual(Object.keys(RULES).sort());
  });

  // Signing out and setting passwords are tried with clients of their own.
  const walked = operations.filter(
    ({ name }) => !['Mutation.signOut', 'Mutation.setPassword'].includes(name),
  );
  it.each(walked.map((operation) => [operation.name, operation] as const))(
    '%s keeps its rule',
    async (name, operation) => {
      const rule = RULES[name];
      const asStranger = await attempt(new Client(service.url), operation);
      if (rule === 'anyone') {
        expect(refused(asStranger)).toBe(false);
        return;
      }
      expect(asStranger?.extensions.code).toBe('NOT_SIGNED_IN');
      if (rule === 'account') return;
      const elsewhere = await attempt(people.ownerElsewhere, operation);
      expect(elsewhere?.extensions).toMatchObject({ code: 'NOT_FOUND', place: 'programId' });
      const roles = ['READER', 'KEEPER', 'OWNER'] as const;
      for (const role of roles) {
        const error = await attempt(people[role], operation);
        const may = roles.indexOf(role) >= roles.indexOf(rule);
        expect({ role, refused: refused(error) }).toEqual({ role, refused: !may });
        // INTERNAL would mean that the operation was not really tried.
        expect(error?.extensions.code).not.toBe('INTERNAL');
      }
    },
  );

  it('asks for an account to set a password', async () => {
    const operation = operations.find(({ name }) => name === 'Mutation.setPassword');
    expect(operation && (await attempt(people.stranger, operation))?.extensions.code).toBe(
      'NOT_SIGNED_IN',
    );
  });

  it('takes a right away at once when the role changes', async () => {
    const keeper = await invited(people.OWNER, programId, 'KEEPER');
    const { viewer } = await keeper.data('{ viewer { account { id } } }');
    const ask = 'query($programId: ID!) { suggestCode(programId: $programId) }';
    expect(await keeper.data(ask, { programId })).toBeTruthy();
    const change = {
      programId,
      input: {
        commandId: A_UUID.replace('3f', '4f'),
        accountId: viewer.account.id,
        role: 'READER',
      },
    };
    await people.OWNER.data(
      'mutation($programId: ID!, $input: ChangeRoleInput!) { changeRole(programId: $programId, input: $input) { id } }',
      change,
    );
    expect((await keeper.refusal(ask, { programId })).extensions.code).toBe('FORBIDDEN');
  });
});
