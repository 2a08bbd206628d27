import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { type CaseAdapter, type CaseFile, UnreadableShape } from './case-file.js';

export interface CaseResult {
  readonly ok: boolean;
  readonly line: string;
}

/** Runs one check file through the adapter that its name's first word asks for. */
export async function runCase(path: string): Promise<CaseResult> {
  const name = basename(path);
  try {
    const prefix = /^([a-z]+)-.*\.json$/.exec(name)?.[1];
    if (!prefix) throw new UnreadableShape("the file's name has no known prefix");
    const adapter = await findAdapter(prefix);
    const file = JSON.parse(readFileSync(path, 'utf8')) as CaseFile;
    const verdict = adapter(file);
    if (verdict.difference) return { ok: false, line: `FAIL ${name}: ${verdict.difference}` };
    if (verdict.compared === 0) throw new UnreadableShape('it holds no figure to compare');
    return { ok: true, line: `ok ${name} (${verdict.compared} figures)` };
  } catch (error) {
    if (error instanceof UnreadableShape || error instanceof SyntaxError) {
      return { ok: false, line: `unreadable shape ${name}: ${error.message}` };
    }
    return {
      ok: false,
      line: `FAIL ${name}: ${error instanceof Error ? error.message : error}`,
    };
  }
}

async function findAdapter(prefix: string): Promise<CaseAdapter> {
  const known = ['pedigree', 'odds', 'clutch', 'infer', 'value', 'tsd', 'pen'];
  if (!known.includes(prefix)) throw new UnreadableShape(`no adapter for '${prefix}-' files`);
  const module = (await import(`./${prefix}-cases.js`)) as {
    check: CaseAdapter;
  };
  return module.check;
}
