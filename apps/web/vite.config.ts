import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  plugins: [react()],
  // No data: addresses: the server's content security policy allows its own origin only.
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  server: { proxy: { '/graphql': 'http://127.0.0.1:3000' } },
});
