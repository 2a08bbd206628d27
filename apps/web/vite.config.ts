import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin, type Rolldown } from 'vite';

/** The latin halves of the type, which every page is set in. */
const TYPE = /-latin-(400|700)-normal.*\.woff2$/;

const holdsMain = ({ moduleIds }: Rolldown.OutputChunk) =>
  moduleIds.some((module) => module.endsWith('/src/main.tsx'));

/** A chunk and all that it imports, with their sheets. */
function filesOf(file: string, bundle: Rolldown.OutputBundle, found = new Set<string>()) {
  const chunk = bundle[file];
  if (found.has(file) || chunk?.type !== 'chunk') return found;
  found.add(file);
  for (const sheet of chunk.viteMetadata?.importedCss ?? []) found.add(sheet);
  for (const imported of chunk.imports) filesOf(imported, bundle, found);
  return found;
}

/**
 * Writes `pages.json`: for every path of `routes.tsx` the files that its page needs beyond the entry's. The
 * service names them in the page it sends, so that the browser fetches all at once and not one after another.
 */
const pageFiles: Plugin = {
  name: 'page-files',
  apply: 'build',
  enforce: 'post',
  generateBundle(_options, bundle) {
    const routes = new URL('./src/app/routes.tsx', import.meta.url);
    const pages = readFileSync(routes, 'utf8').matchAll(
      /page\(\s*'([^']+)',\s*async \(\) =>\s*\(\s*await import\('([^']+)\.js'\)/g,
    );
    const chunks = Object.values(bundle).filter((file) => file.type === 'chunk');
    const entry = chunks.find(holdsMain);
    if (!entry) this.error('The console has no file of its own.');
    const always = filesOf(entry.fileName, bundle);
    const files = Object.fromEntries(
      [...pages].map(([, path = '', module]) => {
        const source = fileURLToPath(new URL(`${module}.tsx`, routes));
        const chunk = chunks.find(({ facadeModuleId }) => facadeModuleId === source);
        if (!chunk) this.error(`The page at ${path} has no chunk of its own.`);
        // The sheets of the parts before the page's own, as they stood when they were fetched one by one.
        const all = [...filesOf(chunk.fileName, bundle)].reverse();
        const its = all.filter((file) => !always.has(file));
        return [path.startsWith('/') ? path : `/programs/:programId/${path}`, its];
      }),
    );
    if (Object.keys(files).length === 0) this.error('No page was found in routes.tsx.');
    const type = Object.keys(bundle).filter((file) => TYPE.test(file));
    this.emitFile({
      type: 'asset',
      fileName: 'pages.json',
      source: JSON.stringify({ type, files }),
    });
  },
};

/**
 * Writes `offline.js` with the list of files that the yard round needs: the entry, the chunk of the round, all they
 * import, their sheets, and the type. Pages that need the server anyway are left out.
 */
const offlineFiles: Plugin = {
  name: 'offline-files',
  apply: 'build',
  // After Vite has taken out the chunks that held nothing but a sheet.
  enforce: 'post',
  generateBundle(_options, bundle) {
    const wanted = new Set(Object.keys(bundle).filter((file) => TYPE.test(file)));
    for (const [file, chunk] of Object.entries(bundle)) {
      const isRound = chunk.type === 'chunk' && chunk.facadeModuleId?.endsWith('/round-route.tsx');
      if (isRound || (chunk.type === 'chunk' && chunk.name === 'console'))
        filesOf(file, bundle, wanted);
    }
    const files = [...wanted].sort().map((file) => `/${file}`);
    files.push('/theme.js', '/mark.svg');
    const worker = readFileSync(new URL('./src/offline/offline.js', import.meta.url), 'utf8');
    const page = readFileSync(new URL('./index.html', import.meta.url));
    const name = createHash('sha256')
      .update(files.join())
      .update(worker)
      .update(page)
      .digest('hex');
    this.emitFile({
      type: 'asset',
      fileName: 'offline.js',
      source: worker
        .replace('self.__FILES__', JSON.stringify(files))
        .replace('self.__CACHE__', JSON.stringify(`round-${name.slice(0, 12)}`)),
    });
  },
};

/** What the first questions need, and what else the console cannot be drawn without: all that is not deferred. */
const first = new Set<string>();
const drawing = new Set<string>();
const entryModules: Plugin = {
  name: 'entry-modules',
  buildEnd() {
    const walk = (module: string, into: Set<string>) => {
      if (into.has(module)) return;
      into.add(module);
      for (const next of this.getModuleInfo(module)?.importedIds ?? []) walk(next, into);
    };
    for (const module of this.getModuleIds()) {
      if (module.endsWith('/src/app/first-questions.ts')) walk(module, first);
      if (module.endsWith('/src/main.tsx')) walk(module, drawing);
    }
  },
};

/**
 * The first questions do not wait for the sheets, the rest of the page and the scripts before theirs: they are sent
 * as soon as their script is there.
 */
const firstAtOnce: Plugin = {
  name: 'first-at-once',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler(html) {
      const atOnce = html.replace('<script type="module" crossorigin src="/assets/first-', (tag) =>
        tag.replace(' crossorigin', ' async crossorigin'),
      );
      if (atOnce === html) throw new Error('The page has no script of the first questions.');
      return atOnce;
    },
  },
};

/**
 * The first questions are a file of their own, which runs while React is still on its way. What the console
 * cannot be drawn without is one file; parts that many pages share are another, rather than one of a kilobyte each.
 */
const groups = [
  { priority: 3, name: 'first', test: (module: string) => first.has(module) },
  { priority: 2, name: 'console', test: (module: string) => drawing.has(module) },
  { priority: 1, name: 'parts', test: /src\/(components|lib)\//, minShareCount: 4 },
];

export default defineConfig(({ command }) => {
  // Called from a test run, NODE_ENV says 'test', and the pages would ship React's development half.
  if (command === 'build') process.env.NODE_ENV = 'production';
  return {
    plugins: [react(), entryModules, firstAtOnce, pageFiles, offlineFiles],
    // No data: addresses: the server's content security policy allows its own origin only.
    build: {
      target: 'es2022',
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      rolldownOptions: { output: { codeSplitting: { groups } } },
    },
    server: {
      proxy: Object.fromEntries(
        ['/graphql', '/files', '/archives', '/live'].map((path) => [path, 'http://127.0.0.1:4310']),
      ),
    },
  };
});
