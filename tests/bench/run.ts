/** `npm run bench [-- WORD...]`: every benchmark whose file name holds one of the words. */
import { readdirSync } from 'node:fs';

const words = process.argv.slice(2);
const files = readdirSync(new URL('.', import.meta.url))
  .filter((name) => name.endsWith('.bench.js'))
  .filter((name) => words.length === 0 || words.some((word) => name.includes(word)))
  .sort();
for (const file of files) {
  console.log(`\n## ${file.replace('.bench.js', '')}`);
  const module = (await import(`./${file}`)) as {
    run: () => void | Promise<void>;
  };
  await module.run();
}
