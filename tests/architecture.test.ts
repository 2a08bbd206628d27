import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from '@jest/globals';

// The import rules of DEVELOPERS.md, as a test.
const root = resolve(fileURLToPath(new URL('../../', import.meta.url)));

interface Source {
  readonly path: string;
  readonly text: string;
  readonly imports: readonly string[];
}

function sources(folder: string): Source[] {
  const found: Source[] = [];
  const visit = (at: string): void => {
    for (const name of readdirSync(at)) {
      if (['node_modules', 'dist', 'dist-test', 'generated'].includes(name)) continue;
      const path = join(at, name);
      if (statSync(path).isDirectory()) visit(path);
      else if (/\.(ts|tsx|mjs)$/.test(name) && !name.endsWith('.d.ts')) {
        const text = readFileSync(path, 'utf8');
        const imports = [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(
          ([, target]) => target,
        );
        found.push({ path: relative(root, path), text, imports });
      }
    }
  };
  visit(join(root, folder));
  return found;
}

const libs = readdirSync(join(root, 'libs'));
const packageOf = (folder: string): { dependencies?: Record<string, string> } =>
  JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'));

describe('libraries', () => {
  it.each(libs)('%s imports only what its package.json lists', (lib) => {
    const allowed = Object.keys(packageOf(`libs/${lib}`).dependencies ?? {});
    const strangers = sources(`libs/${lib}/src`).flatMap(({ path, imports }) =>
      imports
        .filter((target) => !target.startsWith('.'))
        .filter(
          (target) => !allowed.some((name) => target === name || target.startsWith(`${name}/`)),
        )
        .map((target) => `${path}: ${target}`),
    );
    expect(strangers).toEqual([]);
  });

  it('are pure: no clock, no chance, no process, no console', () => {
    const impure =
      /\bDate\.now\b|new Date\(\)|\bMath\.random\b|\bprocess\.|\bconsole\.|\bglobalThis\./;
    const found = libs
      .flatMap((lib) => sources(`libs/${lib}/src`))
      .filter(({ text }) => impure.test(text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '')))
      .map(({ path }) => path);
    expect(found).toEqual([]);
  });

  it('form no cycle, and stand on basics alone at the bottom', () => {
    const below = (lib: string): string[] =>
      Object.keys(packageOf(`libs/${lib}`).dependencies ?? {})
        .filter((name) => name.startsWith('@scutewright/'))
        .map((name) => name.replace('@scutewright/', ''));
    const visit = (lib: string, above: readonly string[]): void => {
      if (above.includes(lib)) throw new Error(`A cycle: ${[...above, lib].join(' -> ')}`);
      for (const next of below(lib)) visit(next, [...above, lib]);
    };
    for (const lib of libs) visit(lib, []);
    expect(below('basics')).toEqual([]);
  });
});

describe('the service', () => {
  const api = sources('apps/api/src');

  it('has no forwardRef and no index file', () => {
    expect(api.filter(({ text }) => text.includes('forwardRef(')).map(({ path }) => path)).toEqual(
      [],
    );
    expect(api.filter(({ path }) => path.endsWith('/index.ts')).map(({ path }) => path)).toEqual(
      [],
    );
  });

  it('has features that build on earlier ones only, in the order of app.module.ts', () => {
    const text = readFileSync(join(root, 'apps/api/src/app.module.ts'), 'utf8');
    const list = /export const resolvers = \[([\s\S]*?)\];/.exec(text)?.[1] ?? '';
    const order: string[] = [];
    for (const [name] of list.matchAll(/\w+Resolver/g)) {
      const feature = new RegExp(`\\b${name}\\b[^;]*from './features/(\\w[\\w-]*)/`).exec(
        text,
      )?.[1];
      if (feature && !order.includes(feature)) order.push(feature);
    }
    expect(order.length).toBeGreaterThan(3);
    const wrong = api.flatMap(({ path, imports }) => {
      const here = /features\/([\w-]+)\//.exec(path)?.[1];
      if (!here) return [];
      return imports.flatMap((target) => {
        const there = /^\.\.\/([\w-]+)\//.exec(target)?.[1];
        const isFeature = there !== undefined && order.includes(there);
        return isFeature && order.indexOf(there) > order.indexOf(here)
          ? [`${path} imports ${there}`]
          : [];
      });
    });
    expect(wrong).toEqual([]);
  });

  it('reaches the rows of a program only through the door', () => {
    const users = api
      .filter(({ text }) => /\bprisma\.(?!account|session|invitation|job|\$)\w+\./.test(text))
      .map(({ path }) => path);
    expect(users).toEqual([]);
  });

  it('has a rule on every operation', () => {
    const open = api
      .filter(({ path }) => path.endsWith('.resolver.ts') || path.endsWith('.controller.ts'))
      .flatMap(({ path, text }) => {
        const isController = path.endsWith('.controller.ts');
        const verbs = isController
          ? /@(Get|Post|Put|Delete)\(/g
          : /@(Query|Mutation|Subscription)\(/g;
        const operations = text.match(verbs)?.length ?? 0;
        const rules = text.match(/@Access\(/g)?.length ?? 0;
        return operations === rules ? [] : [`${path}: ${operations} operations, ${rules} rules`];
      });
    expect(open).toEqual([]);
  });
});

describe('the web console', () => {
  it('has features that do not import each other', () => {
    const wrong = sources('apps/web/src').flatMap(({ path, imports }) => {
      const here = /src\/features\/([\w-]+)\//.exec(path)?.[1];
      return imports
        .filter((target) => {
          const there = /src\/features\/([\w-]+)/.exec(join(dirname(path), target))?.[1];
          return here && target.startsWith('../') && there && there !== here;
        })
        .map((target) => `${path}: ${target}`);
    });
    expect(wrong).toEqual([]);
  });
});

describe('every source', () => {
  const all = ['apps', 'libs', 'tests', 'seed'].flatMap((folder) => sources(folder));

  it('has one subject: no file over 500 lines', () => {
    expect(all.filter(({ text }) => text.split('\n').length > 500).map(({ path }) => path)).toEqual(
      [],
    );
  });

  it('has a name that says what is inside', () => {
    const vague = /(^|\/)(utils?|helpers?|common|misc|types|interfaces)(\.tsx?$|\/)/;
    expect(all.filter(({ path }) => vague.test(path)).map(({ path }) => path)).toEqual([]);
  });

  it('switches no check off', () => {
    const off =
      /@ts-(ignore|nocheck|expect-error)|biome-ignore|eslint-disable|\b(it|test|describe)\.(skip|only)\(/;
    // This file names what it looks for.
    const found = all.filter(
      ({ path, text }) => !path.endsWith('architecture.test.ts') && off.test(text),
    );
    expect(found.map(({ path }) => path)).toEqual([]);
  });
});
