/** Name of the file of a program's archive, such as 'saltmarsh-group-2026-04-01.zip'. */
export function archiveName(program: string, at: Date): string {
  const plain = program
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return `${plain.slice(0, 60) || 'program'}-${at.toISOString().slice(0, 10)}.zip`;
}
