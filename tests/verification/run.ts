/**
 * `npm run verify [-- WORD...]`: long statistical checks, outside continuous integration. Each file exports
 * `run`, which prints a number with its interval and answers whether it holds.
 */
import { readdirSync } from 'node:fs';

const words = process.argv.slice(2);
const files = readdirSync(new URL('.', import.meta.url))
  .filter((name) => name.endsWith('.verify.js'))
  .filter((name) => words.length === 0 || words.some((word) => name.includes(word)))
  .sort();
let failed = 0;
for (const file of files) {
  console.log(`\n## ${file.replace('.verify.js', '')}`);
  const module = (await import(`./${file}`)) as {
    run: () => boolean | Promise<boolean>;
  };
  if (!(await module.run())) failed++;
}
console.log(`${files.length - failed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
