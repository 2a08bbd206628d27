import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
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
  app.use(
    '/assets',
    express.static(join(folder, 'assets'), { immutable: true, maxAge: '365d', fallthrough: false }),
  );
  app.use(express.static(folder, { index: false }));
  app.use(async (req: Request, res: Response, next: NextFunction) => {
    const isPage =
      req.method === 'GET' && !/^\/(graphql|healthz|readyz|files|live)(\/|$)/.test(req.path);
    if (!isPage || !req.accepts('html')) return next();
    // Read each time, some kilobytes: a console built anew is served without a restart.
    const [page, pages] = await Promise.all([
      readFile(file, 'utf8'),
      readFile(join(folder, 'pages.json'), 'utf8'),
    ]);
    const html = withItsFiles(page, JSON.parse(pages), req.path);
    res.set('cache-control', 'no-cache').type('html').send(html);
  });
}

/**
 * The one page, with the files of the address at its head: the browser fetches them with the first ones and not
 * after those have run. An address that no route knows gets the type alone.
 */
function withItsFiles(page: string, { type, files }: PageFiles, path: string): string {
  const [, its = []] =
    Object.entries(files)
      // 'animals/add' before 'animals/:animalId', which it would fit too.
      .sort(([a], [b]) => a.split(':').length - b.split(':').length)
      .find(([pattern]) => new RegExp(`^${pattern.replaceAll(/:\w+/g, '[^/]+')}/?$`).test(path)) ??
    [];
  const links = [
    ...type.map((file) => `rel="preload" as="font" type="font/woff2" href="/${file}"`),
    ...its.map((file) =>
      file.endsWith('.css')
        ? `rel="stylesheet" href="/${file}"`
        : `rel="modulepreload" href="/${file}"`,
    ),
  ];
  return page.replace('</head>', () =>
    [...links.map((link) => `<link crossorigin ${link}>\n`), '</head>'].join(''),
  );
}
