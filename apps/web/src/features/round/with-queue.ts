import { nextCodes } from '../../lib/next-codes.js';
import type { QueuedEntry } from '../../lib/phone-store.js';
import type { RoundAnimal, RoundCopy } from './round-documents.js';
import { WrittenOver } from './written-over.js';

/**
 * The yard as the copy has it, with what was written since: what waits, and what was written after the copy was made.
 * So a clutch laid without signal can have its eggs set without signal.
 */
export function withQueue(copy: RoundCopy, queue: readonly QueuedEntry[]): RoundCopy {
  const over = new WrittenOver(copy);
  for (const { entry, answer } of queue) {
    const isKnown = answer && (answer.revision ?? 0) <= copy.revision;
    if (!isKnown && answer?.state !== 'NEEDS_DECISION') over.write(entry);
  }
  return over.yard();
}

/** The next code that is free by the copy and by what was written since. */
export function freeCode({ animals, nextCode }: RoundCopy): string {
  const taken = new Set(animals.map(({ code }) => code));
  return nextCodes(nextCode, 200).find((code) => !taken.has(code)) ?? nextCode;
}

/** Animals that were seen on a day, by the copy or by what was written on this phone. */
export function seenOn(
  copy: RoundCopy,
  queue: readonly QueuedEntry[],
  day: string,
): ReadonlySet<string> {
  const seen = new Set(copy.animals.filter(({ lastSeen }) => lastSeen === day).map(({ id }) => id));
  for (const { entry, animals, answer } of queue) {
    if (entry.on !== day || answer?.state === 'NEEDS_DECISION') continue;
    for (const id of animals) seen.add(id);
  }
  return seen;
}

/** Animals that a typed word may mean: part of the code, name or a mark. Chips are typed from any end. */
export function found(animals: readonly RoundAnimal[], typed: string): RoundAnimal[] {
  const word = typed.trim().toLowerCase();
  if (!word) return [];
  const digits = word.replace(/[\s-]/g, '');
  return animals.filter(
    ({ code, name, marks }) =>
      code.toLowerCase().includes(word) ||
      name?.toLowerCase().includes(word) ||
      marks.some((mark) => mark.toLowerCase().includes(digits)),
  );
}

/** `female, 861 g`. */
export function animalWords({ sex, massG, sclMm }: RoundAnimal): string {
  const size =
    massG !== null ? massWords(massG) : sclMm !== null ? `${sclMm} mm` : 'never measured';
  return `${SEX_WORDS[sex]}, ${size}`;
}

const SEX_WORDS = { MALE: 'male', FEMALE: 'female', UNKNOWN: 'sex not known' } as const;

/** `861 g`, `12.4 kg`. */
export const massWords = (grams: number): string =>
  grams < 10_000 ? `${grams.toLocaleString('en')} g` : `${Number((grams / 1000).toFixed(1))} kg`;
