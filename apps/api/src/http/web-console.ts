import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { NestExpressApplication } from '@nestjs/platform-express';
import express, { type NextFunction, type Request, type Response } from 'express';

/** What `vite.config.ts` writes beside the console: the typeface, and the files of each page by its path. */
interface PageFiles {
  readonly type: readonly string[];
  readonly files: Readonly<Record<string, readonly string[]>>;
}

/** The web console: hashed files for ever, and the one page for every address of the console. */
export function serveWebConsole(app: NestExpressApplication, folder: string): void {
  const file = join(folder, 'index.html');
  if (!existsSync(file)) throw new Error(`The web console is not built: ${file} is missing.`);
  const pageFor = pageWithItsFiles(
    readFileSync(file, 'utf8'),
    JSON.parse(readFileSync(join(folder, 'pages.json'), 'utf8')),
  );
  app.use(
    '/assets',
    express.static(join(folder, 'assets'), { immutable: true, maxAge: '365d', fallthrough: false }),
  );
  app.use(express.static(folder, { index: false }));
  app.use((req: Request, res: Response, next: NextFunction) => {
    const isPage =
      req.method === 'GET' && !/^\/(graphql|healthz|readyz|files|live)(\/|$)/.test(req.path);
    if (!isPage || !req.accepts('html')) return next();
    res.set('cache-control', 'no-cache').type('html').send(pageFor(req.path));
  });
}

/**
 * The one page, with the files of the address at its head: the browser fetches them with the first ones and not
 * after those have run. An address that no route knows gets the page as it is.
 */
function pageWithItsFiles(page: string, { type, files }: PageFiles): (path: string) => string {
  const fonts = type.map(
    (font) => `<link rel="preload" as="font" type="font/woff2" crossorigin href="/${font}">`,
  );
  const pages = Object.entries(files)
    // 'animals/add' before 'animals/:animalId', which it would fit too.
    .sort(([a], [b]) => a.split(':').length - b.split(':').length)
    .map(([path, its]) => ({
      isAt: new RegExp(`^${path.replaceAll(/:\w+/g, '[^/]+')}/?$`),
      links: its.map((one) =>
        one.endsWith('.css')
          ? `<link rel="stylesheet" crossorigin href="/${one}">`
          : `<link rel="modulepreload" crossorigin href="/${one}">`,
      ),
    }));
  return (path) => {
    const links = pages.find(({ isAt }) => isAt.test(path))?.links ?? [];
    return page.replace('</head>', () => `${[...fonts, ...links].join('\n')}\n</head>`);
  };
}
