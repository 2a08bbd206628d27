import 'reflect-metadata';
import { readFileSync } from 'node:fs';
import { NestFactory } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import compression from 'compression';
import express, { type Request, type Response } from 'express';
import { appModule } from './app.module.js';
import type { Config } from './config.js';
import { PublicAddress } from './http/public-address.js';
import { secure } from './http/security.js';
import { serveWebConsole } from './http/web-console.js';

/** Streams of new revisions are left alone: compressed, they would wait until there is enough to compress. */
const isWorthCompressing = (req: Request, res: Response) =>
  !String(res.getHeader('content-type')).startsWith('text/event-stream') &&
  compression.filter(req, res);

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
  app.use(compression({ filter: isWorthCompressing }));
  app.use('/graphql', express.json({ limit: '1mb' }));
  const { authority } = config;
  if (authority) {
    app.use('/authority.crt', (_req: Request, res: Response) => {
      res.type('application/x-x509-ca-cert').sendFile(authority);
    });
  }
  if (config.webFolder) serveWebConsole(app, config.webFolder);
  app.enableShutdownHooks();
  return app;
}
