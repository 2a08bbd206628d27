/**
 * Starts this clone as a newcomer would (`npm start`, nothing installed before) on an empty
 * data folder, comes in by the printed link, starts it a second time, and prints the times.
 */
import { spawn } from 'node:child_process';
import { chmodSync, mkdirSync } from 'node:fs';
import { repository } from './home.mjs';

const [home] = process.argv.slice(2);
const PORT = '4377';
mkdirSync(home, { recursive: true });
chmodSync(home, 0o755);

const first = await go();
const token = /#token=([\w-]+)/.exec(first.output)?.[1];
const answer = await fetch(`http://127.0.0.1:${PORT}/graphql`, {
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify({
    query: `mutation { enterByLink(token: "${token}") { memberships { program { animalCount } } } }`,
  }),
});
const { data } = await answer.json();
const animals = data?.enterByLink.memberships[0]?.program.animalCount;
const page = await (await fetch(`http://127.0.0.1:${PORT}/`)).text();
await stop(first);
const second = await go();
await stop(second);
console.log(
  `first start ${first.seconds.toFixed(1)} s, second start ${second.seconds.toFixed(1)} s, ${animals} animals in the demo`,
);
if (!(animals > 0))
  throw new Error('The demo program holds no animals, or the link did not let us in');
if (!page.includes('<div id="')) throw new Error('The page is not the web console');

function go() {
  const began = performance.now();
  const child = spawn('npm', ['start'], {
    cwd: repository,
    env: { ...process.env, SCUTEWRIGHT_HOME: home, PORT, DATABASE_URL: '' },
    detached: true,
  });
  let output = '';
  return new Promise((resolve, reject) => {
    const hear = (chunk) => {
      output += chunk;
      if (output.includes('Ctrl-C stops it'))
        resolve({ child, output, seconds: (performance.now() - began) / 1000 });
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.once('exit', (code) =>
      reject(new Error(`npm start ended with code ${code}:\n${output}`)),
    );
  });
}

/** Ctrl-C reaches every process of the terminal: the whole group. */
function stop({ child }) {
  return new Promise((resolve) => {
    child.removeAllListeners('exit');
    child.once('exit', resolve);
    process.kill(-child.pid, 'SIGINT');
  });
}
