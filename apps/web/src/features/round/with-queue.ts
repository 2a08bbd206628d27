import type { QueuedEntry } from '../../lib/phone-store.js';
import type { RoundAnimal, RoundCopy } from './round-documents.js';

interface Says {
  readonly move?: { animals?: readonly string[]; pen?: string | null };
  readonly measured?: { animal: string; massG?: number; sclMm?: number };
  readonly died?: { animal: string };
  readonly gone?: { animal: string };
}

/** The yard as the copy has it, with what was written since and waits to be sent. */
export function withQueue(copy: RoundCopy, queue: readonly QueuedEntry[]): RoundCopy {
  const animals = new Map(copy.animals.map((animal) => [animal.id, animal]));
  const change = (id: string, to: Partial<RoundAnimal>) => {
    const animal = animals.get(id);
    if (animal) animals.set(id, { ...animal, ...to });
  };
  for (const { entry, answer } of queue) {
    if (answer) continue;
    const { move, measured, died, gone } = entry as Says;
    for (const id of move?.animals ?? []) change(id, { penId: move?.pen ?? null });
    if (measured?.massG !== undefined) change(measured.animal, { massG: measured.massG });
    if (measured?.sclMm !== undefined) change(measured.animal, { sclMm: measured.sclMm });
    const away = died?.animal ?? gone?.animal;
    if (away) animals.delete(away);
  }
  return { ...copy, animals: [...animals.values()] };
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
