import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from '@jest/globals';
import { runCase } from './run-case.js';

// Published and independently derived check values; each file names its source.
const folder = fileURLToPath(new URL('../../published/cases/', import.meta.url));

describe('published check cases', () => {
  const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
  it.each(files)('%s', async (name) => {
    const result = await runCase(folder + name);
    expect(result).toEqual({ ok: true, line: expect.stringMatching(/^ok /) });
  });
});
