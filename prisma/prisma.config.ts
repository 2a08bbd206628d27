import { defineConfig } from 'prisma/config';

// The address is only needed by Prisma's own command line, which the service does not use.
export default defineConfig({
  schema: '.',
  migrations: { path: './migrations' },
});
