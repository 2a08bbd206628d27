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

export default defineConfig(({ command }) => {
  // Called from a test run, NODE_ENV says 'test', and the pages would ship React's development half.
  if (command === 'build') process.env.NODE_ENV = 'production';
  return {
    plugins: [reactAriaInEnglish, react()],
    // No data: addresses: the server's content security policy allows its own origin only.
    build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
    server: {
      proxy: Object.fromEntries(
        ['/graphql', '/files', '/archives', '/live'].map((path) => [path, 'http://127.0.0.1:4310']),
      ),
    },
  };
});
