import 'reflect-metadata';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { NestFactory } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import express, { type NextFunction, type Request, type Response } from 'express';
import { appModule } from './app.module.js';
import type { Config } from './config.js';
import { PublicAddress } from './http/public-address.js';
import { secure } from './http/security.js';

/** The service, ready to listen. */
export async function createApp(config: Config): Promise<NestExpressApplication> {
  const app = await NestFactory.create<NestExpressApplication>(appModule(config), {
    logger: ['error', 'warn'],
    bodyParser: false,
    httpsOptions: config.certificate
      ? { cert: readFileSync(config.certificate.cert), key: readFileSync(config.certificate.key) }
      : undefined,
  });
  secure(app, app.get(PublicAddress));
  app.use('/graphql', express.json({ limit: '1mb' }));
  const { authority } = config;
  if (authority) {
    app.use('/authority.crt', (_req: Request, res: Response) => {
      res.type('application/x-x509-ca-cert').sendFile(authority);
    });
  }
  if (config.webFolder) serveWeb(app, config.webFolder);
  app.enableShutdownHooks();
  return app;
}

/** The web console: hashed files for ever, and the one page for every address of the console. */
function serveWeb(app: NestExpressApplication, folder: string): void {
  const page = join(folder, 'index.html');
  if (!existsSync(page)) throw new Error(`The web console is not built: ${page} is missing.`);
  app.use(
    '/assets',
    express.static(join(folder, 'assets'), { immutable: true, maxAge: '365d', fallthrough: false }),
  );
  app.use(express.static(folder, { index: false }));
  app.use((req: Request, res: Response, next: NextFunction) => {
    const isPage =
      req.method === 'GET' && !/^\/(graphql|healthz|readyz|files|live)(\/|$)/.test(req.path);
    if (!isPage || !req.accepts('html')) return next();
    res.set('cache-control', 'no-cache').sendFile(page);
  });
}
