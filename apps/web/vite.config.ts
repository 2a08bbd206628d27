import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

/**
 * The pages are in English, so what React Aria says to screen readers must be too, whatever the
 * browser's language. Its thirty other languages become its English one (10 kB less to load).
 */
const reactAriaInEnglish: Plugin = {
  name: 'react-aria-in-english',
  enforce: 'pre',
  resolveId(source, importer) {
    const inAnother = /\/intl\/\w+\/(?!en-US)[a-z]{2}-[A-Z]{2}\.mjs$/;
    if (!importer?.includes('react-aria') || !inAnother.test(source)) return null;
    return this.resolve(source.replace(/[a-z]{2}-[A-Z]{2}\.mjs$/, 'en-US.mjs'), importer);
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
    const wanted = new Set<string>();
    const take = (file: string) => {
      const chunk = bundle[file];
      if (wanted.has(file) || chunk?.type !== 'chunk') return;
      wanted.add(file);
      for (const sheet of chunk.viteMetadata?.importedCss ?? []) wanted.add(sheet);
      chunk.imports.forEach(take);
    };
    for (const [file, chunk] of Object.entries(bundle)) {
      const isRound = chunk.type === 'chunk' && chunk.facadeModuleId?.endsWith('/round-route.tsx');
      if (isRound || (chunk.type === 'chunk' && chunk.isEntry)) take(file);
      if (/-latin-(400|700)-normal.*\.woff2$/.test(file) && !file.includes('latin-ext'))
        wanted.add(file);
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

export default defineConfig(({ command }) => {
  // Called from a test run, NODE_ENV says 'test', and the pages would ship React's development half.
  if (command === 'build') process.env.NODE_ENV = 'production';
  return {
    plugins: [reactAriaInEnglish, react(), offlineFiles],
    // No data: addresses: the server's content security policy allows its own origin only.
    build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
    server: {
      proxy: Object.fromEntries(
        ['/graphql', '/files', '/archives', '/live'].map((path) => [path, 'http://127.0.0.1:4310']),
      ),
    },
  };
});
