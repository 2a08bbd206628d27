import type { Sex } from '../../components/sex-shape.js';
import type { BuyerFileAnimal } from './sale-documents.js';

/** A possible parent: one of the buyer's by code, or one of ours. */
export interface BuyerParent {
  readonly code?: string;
  readonly animalId?: string;
  readonly probability?: number;
}

/** One animal of the buyer's, as they tell it. Kept in the address alone. */
export interface BuyerAnimal {
  readonly code: string;
  readonly sex: Sex;
  /** Compared with ours; else it is only a forebear. */
  readonly isAsked: boolean;
  readonly ourAnimalId?: string;
  readonly clutch?: string;
  readonly sires: BuyerParent[];
  readonly dams: BuyerParent[];
}

const KEY = '#buyer=';

/** The part of an address behind `#`: a browser does not send it to the server. */
export function buyerHash(animals: readonly BuyerAnimal[]): string {
  return animals.length === 0 ? '' : `${KEY}${encodeURIComponent(JSON.stringify(animals))}`;
}

/** The buyer's animals of an address; none where it names none or was cut short. */
export function buyerOf(hash: string): BuyerAnimal[] {
  if (!hash.startsWith(KEY)) return [];
  try {
    const read: unknown = JSON.parse(decodeURIComponent(hash.slice(KEY.length)));
    // The server checks the rest; here only what the page itself reads.
    return Array.isArray(read)
      ? (read as BuyerAnimal[]).filter((each) => typeof each?.code === 'string')
      : [];
  } catch {
    // An address that a letter program cut in two: the page says that the buyer's animals are missing.
    return [];
  }
}

/** The chosen animals of a file with all their forebears in it. `same`: codes that are our animals of that code. */
export function chosenOfFile(
  file: readonly BuyerFileAnimal[],
  chosen: ReadonlySet<string>,
  same: ReadonlySet<string>,
): BuyerAnimal[] {
  const byCode = new Map(file.map((animal) => [animal.code, animal]));
  const needed = new Set<string>();
  const open = [...chosen];
  for (let code = open.pop(); code !== undefined; code = open.pop()) {
    const animal = byCode.get(code);
    if (!animal || needed.has(code)) continue;
    needed.add(code);
    // What is known of one of ours stands in our books.
    if (same.has(code)) continue;
    open.push(...[...animal.sires, ...animal.dams].map((parent) => parent.code));
  }
  return [...needed].flatMap((code): BuyerAnimal[] => {
    const animal = byCode.get(code);
    if (!animal) return [];
    const ours = same.has(code) ? animal.sameCode?.id : undefined;
    const parents = (list: BuyerFileAnimal['sires']) =>
      ours
        ? []
        : list.map((parent) => ({
            code: parent.code,
            ...(parent.probability === null ? {} : { probability: parent.probability }),
          }));
    return [
      {
        code,
        sex: animal.sex as Sex,
        isAsked: chosen.has(code),
        ...(ours ? { ourAnimalId: ours } : {}),
        ...(animal.clutch ? { clutch: animal.clutch } : {}),
        sires: parents(animal.sires),
        dams: parents(animal.dams),
      },
    ];
  });
}
