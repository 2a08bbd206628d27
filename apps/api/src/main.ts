import { readConfig } from './config.js';
import { createApp } from './create-app.js';
import { Jobs } from './jobs/jobs.js';

const config = readConfig(process.env);
const app = await createApp(config);
const server = await app.listen(config.port, config.bind);
app.get(Jobs).begin();
const address = server.address();
process.send?.({ port: typeof address === 'object' ? address?.port : config.port });
// Started by the launcher: when that is gone, so is the reason to run.
process.on('disconnect', () => {
  app.close().finally(() => process.exit(0));
});
