import { readFileSync } from 'node:fs';
import { expect } from '@jest/globals';
import { readProgramFile } from '@scutewright/commands';
import { buildPedigree } from '@scutewright/pedigree';
import { type Client, startService, type TestService } from './service.js';

/** A service with the invented demo program, and the ids of its animals by code. */
export interface DemoProgram {
  readonly service: TestService;
  readonly owner: Client;
  readonly demo: string;
  id(code: string): string;
}

export async function openDemo(): Promise<DemoProgram> {
  const service = await startService({}, { demo: true });
  const owner = await service.owner();
  const { viewer } = await owner.data(
    '{ viewer { memberships { program { id animalCount isDemo } } } }',
  );
  expect(viewer.memberships[0].program).toMatchObject({ animalCount: 171, isDemo: true });
  const demo = viewer.memberships[0].program.id;
  const { animals } = await owner.data(
    'query($p: ID!) { animals(programId: $p, first: 500) { edges { node { id code } } } }',
    { p: demo },
  );
  const ids = new Map<string, string>();
  for (const { node } of animals.edges) ids.set(node.code, node.id);
  return {
    service,
    owner,
    demo,
    id(code) {
      const found = ids.get(code);
      if (!found) throw new Error(`The demo has no ${code}`);
      return found;
    },
  };
}

/** The demo's own file through the kernel, without the service in between. */
export const demoRows = () => {
  const file = readProgramFile(
    readFileSync(new URL('../../../seed/saltmarsh-group.csv', import.meta.url)),
  );
  return file.rows.map((row) => {
    const parent = (list: typeof row.sires) => {
      if (list.length === 0) return null;
      return list.map(({ code, probability }) => ({
        id: code,
        probability: probability ?? 1 / list.length,
      }));
    };
    return {
      id: row.code,
      sire: parent(row.sires),
      dam: parent(row.dams),
      sex: row.sex,
      clutch: row.clutch,
    };
  });
};
export const demoPedigree = () => buildPedigree(demoRows());
