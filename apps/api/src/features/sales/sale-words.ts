import type { GeneRow } from '../genes/genes.types.js';
import type { Caution } from '../pairings/pairings.types.js';
import type { SaleAnimal, SalePair, SaleSheet } from './sales.types.js';

/** F of the young from which two that go together are called out: first cousins. A line breeders talk of (common practice), no verdict. */
const PAIR_F = 1 / 16;

/** Kin, cannot say, and no shared parent in our books: never 'unrelated'. */
export function saleSentence(animals: readonly SaleAnimal[], pairs: readonly SalePair[]): string {
  const back = Math.min(...animals.map(({ generationsKnown }) => generationsKnown));
  const books =
    back < 0.05
      ? animals.length === 1
        ? 'Our books hold no parent of it.'
        : 'Of one of them at least the books hold no parent.'
      : `The books go back ${back.toFixed(1)} full generations${animals.length === 1 ? '' : ' for the one of which least is known'}.`;
  if (pairs.length === 0) return books;
  const kin = pairs.filter(({ highest }) => highest > 0).length;
  const open = pairs.filter(({ isKnown }) => !isKnown).length;
  const count = (of: number) => (of === 1 ? '1 pair' : `${of} pairs`);
  if (kin === 0 && open === 0)
    return `No two of them share a parent or an ancestor in our books. ${books}`;
  const said = [
    kin > 0 ? `${count(kin)} ${kin === 1 ? 'is' : 'are'} kin` : '',
    open > 0 ? `for ${count(open)} nobody can say` : '',
  ].filter(Boolean);
  return `Of ${count(pairs.length)}, ${said.join(', and ')}. ${books}`;
}

export function tellKin(animals: readonly SaleAnimal[], pairs: readonly SalePair[]): string[] {
  const code = codesOf(animals);
  return pairs
    .filter(({ highest, worst }) => highest > 0 || worst !== null)
    .map(({ a, b, words, youngF, lowest, highest }) => {
      const range =
        highest - lowest > 1e-9
          ? ` (${(lowest / 2).toFixed(3)} to ${(highest / 2).toFixed(3)})`
          : '';
      return `${code(a)} and ${code(b)}: ${words}; their young would have F ${youngF.toFixed(3)}${range}.`;
    });
}

const codesOf = (animals: readonly SaleAnimal[]) => {
  const codes = new Map(
    animals.map(({ id, code, isBuyers }) => [id, isBuyers ? `${code} (the buyer's)` : code]),
  );
  return (id: string) => codes.get(id) ?? id;
};

/** Two that go together and could breed although they are kin. */
export function pairCaution(animals: readonly SaleAnimal[], pairs: readonly SalePair[]): Caution[] {
  const going = new Set(animals.filter(({ isBuyers }) => !isBuyers).map(({ id }) => id));
  const code = codesOf(animals);
  const close = pairs.filter(
    ({ a, b, canBreed, highest }) =>
      going.has(a) && going.has(b) && canBreed && highest / 2 >= PAIR_F - 1e-9,
  );
  if (close.length === 0) return [];
  const said = close.map(
    ({ a, b, youngF, highest }) =>
      `${code(a)} with ${code(b)} (F of the young ${youngF.toFixed(3)}${highest / 2 - youngF > 1e-9 ? `, up to ${(highest / 2).toFixed(3)}` : ''})`,
  );
  return [
    {
      lead: 'Not a pair to breed.',
      text: `Kin that go together: ${said.join('; ')}. Do not offer them as a pair.`,
      source:
        'F of the young is the kinship of the parents (definition); the line of 0.0625 is what breeders talk of, common practice, no source.',
      isHarm: true,
    },
  ];
}

export function tellRow({ animal, findings }: GeneRow): string[] {
  const told: string[] = [];
  if (animal.sex.sex === 'UNKNOWN') told.push(`The sex of ${animal.code} is not known.`);
  const fathers = animal.sire.candidates.length;
  if (fathers > 1) told.push(`The father of ${animal.code} is one of ${fathers} males.`);
  if (animal.clutch && animal.sire.unrecorded > 0)
    told.push(`The father of ${animal.code} may be a male that nobody recorded.`);
  for (const { locus, label, carries, certainCopies } of findings) {
    if (certainCopies === 0 || label === 'not known') continue;
    const odds = certainCopies === null ? ` (${carries.said})` : '';
    const not = certainCopies === null && carries.value < 1 ? ', not a certain carrier' : '';
    told.push(`${animal.code} at ${locus.name}: ${label}${odds}${not}.`);
  }
  return told;
}

/** Plain text. What is not in the records is said to be unknown, never left to be guessed. */
export function letterOf(
  program: string,
  sheets: readonly SaleSheet[],
  sentence: string,
  mustTell: readonly string[],
): string {
  const each = sheets.flatMap(({ animal, sentence: own, notKnown }) => [
    `- ${animal.code}: ${own}`,
    ...(notKnown.length > 0 ? [`  Not known, and so not claimed: ${notKnown.join('; ')}.`] : []),
  ]);
  return [
    `From the records of ${program}:`,
    '',
    ...each,
    '',
    sentence,
    ...mustTell.map((line) => `- ${line}`),
    '',
    "This says what the records hold. 'No shared parent in our books' does not mean that animals are unrelated; odds are odds, not a promise.",
    'Papers, permits and the health of the animals are between you, your permit office and a veterinarian.',
  ].join('\n');
}
