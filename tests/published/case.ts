/** `npm run case -- FILE...`: check files through the real kernels, a line a file. */
import { runCase } from './run-case.js';

const files = process.argv.slice(2);
if (files.length === 0) {
  console.error('Name one or more check files: npm run case -- tests/published/cases/*.json');
  process.exit(2);
}
let passed = 0;
for (const file of files) {
  const result = await runCase(file);
  console.log(result.line);
  if (result.ok) passed++;
}
console.log(`${passed} passed, ${files.length - passed} failed`);
process.exitCode = passed === files.length ? 0 : 1;
