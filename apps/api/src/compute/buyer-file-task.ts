import { MOST_BUYER_ANIMALS, type NamedParent, readProgramFile } from '@scutewright/commands';

export interface BuyerFileRow {
  readonly code: string;
  readonly name: string | null;
  readonly sex: 'm' | 'f' | null;
  readonly hatched: string | null;
  readonly clutch: string | null;
  readonly sires: readonly NamedParent[];
  readonly dams: readonly NamedParent[];
}

export interface BuyerFileAnswer {
  readonly rows: readonly BuyerFileRow[];
  readonly faults: readonly string[];
  readonly unread: number;
}

const LISTED = 10;

/** What a buyer's program file says of lineage; read by itself, nothing kept. */
export function buyerFileTask({ text }: { readonly text: string }): BuyerFileAnswer {
  const { rows, faults } = readProgramFile(new TextEncoder().encode(text));
  const list = faults.list;
  const said = list
    .slice(0, LISTED)
    .map(({ message, line }) => (line ? `Line ${line}: ${message}` : message));
  if (rows.length > MOST_BUYER_ANIMALS) {
    said.unshift(`The file has ${rows.length} animals; the first ${MOST_BUYER_ANIMALS} are read.`);
  }
  return {
    rows: rows.slice(0, MOST_BUYER_ANIMALS).map((row) => ({
      code: row.code,
      name: row.name,
      sex: row.sex,
      hatched: row.hatched?.text ?? null,
      clutch: row.clutch,
      sires: row.sires,
      dams: row.dams,
    })),
    faults: said,
    unread: list.filter(({ isFatal }) => isFatal).length,
  };
}
