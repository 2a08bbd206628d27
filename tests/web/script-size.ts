import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

const built = new URL('../../../apps/web/dist/', import.meta.url);

/** Script of each page of the built console, all that its first showing loads: kB after gzip, by the page's path. */
export function scriptOfPages(): Record<string, number> {
  const read = (file: string) => readFileSync(new URL(file, built));
  const sizeOf = (files: readonly string[]) =>
    files
      .filter((file) => file.endsWith('.js'))
      .reduce((sum, file) => sum + gzipSync(read(file)).length / 1000, 0);
  const page = read('index.html').toString();
  const always = sizeOf(
    [...page.matchAll(/(?:src|href)="\/([^"]+\.js)"/g)].map(([, file]) => file),
  );
  const { files } = JSON.parse(read('pages.json').toString()) as {
    files: Record<string, string[]>;
  };
  return Object.fromEntries(
    Object.entries(files).map(([path, its]) => [path, Math.round(always + sizeOf(its))]),
  );
}
