import type { NestExpressApplication } from '@nestjs/platform-express';
import type { NextFunction, Request, Response } from 'express';
import helmet from 'helmet';
import type { PublicAddress } from './public-address.js';

/** Security headers, allowed hosts, and no writing from other sites' pages. */
export function secure(app: NestExpressApplication, address: PublicAddress): void {
  const isSecure = address.base.startsWith('https:');
  app.disable('x-powered-by');
  app.use(
    helmet({
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
          defaultSrc: ["'self'"],
          styleSrc: ["'self'", "'unsafe-inline'"],
          imgSrc: ["'self'", 'data:', 'blob:'],
          objectSrc: ["'none'"],
          frameAncestors: ["'none'"],
          baseUri: ["'none'"],
          formAction: ["'self'"],
        },
      },
      strictTransportSecurity: address.staysOnHttps ? undefined : false,
      crossOriginOpenerPolicy: isSecure ? undefined : false,
      originAgentCluster: isSecure,
      referrerPolicy: { policy: 'same-origin' },
    }),
  );
  app.use((req: Request, res: Response, next: NextFunction) => {
    const hosts = address.hostNames();
    if (!hosts.has(hostName(req.headers.host))) {
      res.status(421).type('text/plain');
      res.send(
        'This address is not one of this service. Set SCUTEWRIGHT_PUBLIC_URL to the address that you use.\n',
      );
      return;
    }
    const { origin } = req.headers;
    if (req.method === 'POST' && origin && !hosts.has(originName(origin))) {
      res.status(403).type('text/plain').send('Requests from pages of other sites are refused.\n');
      return;
    }
    next();
  });
}

function hostName(host: string | undefined): string {
  return (host ?? '').toLowerCase().replace(/:\d+$/, '');
}

function originName(origin: string): string {
  try {
    return new URL(origin).hostname;
  } catch {
    return '';
  }
}
