import type { RoundAnimal, RoundCopy, RoundLot } from './round-documents.js';
import { massWords } from './with-queue.js';

/** What was typed or chosen in a form of the round, by the field's name. */
export type Filled = Readonly<Record<string, string>>;

export interface Written {
  readonly words: string;
  readonly says: Record<string, unknown>;
}

export type RoundField =
  | {
      readonly kind: 'number';
      readonly name: string;
      readonly label: string;
      readonly unit?: string;
    }
  | { readonly kind: 'text'; readonly name: string; readonly label: string }
  | { readonly kind: 'tick'; readonly name: string; readonly label: string }
  /** Several may be ticked; the value is their ids, parted by blanks. */
  | {
      readonly kind: 'several';
      readonly name: string;
      readonly label: string;
      readonly options: readonly Option[];
    }
  /** One tap chooses and writes. */
  | {
      readonly kind: 'one';
      readonly name: string;
      readonly label: string;
      readonly options: readonly Option[];
    };

export interface Option {
  readonly value: string;
  readonly words: string;
}

export interface Act {
  readonly key: string;
  readonly title: string;
  readonly fields: readonly RoundField[];
  /** What is written, or a sentence that says what is missing. */
  readonly make: (filled: Filled) => Written | string;
}

const INCIDENTS: readonly Option[] = [
  { value: 'FIGHT', words: 'Fight' },
  { value: 'WOUND', words: 'Wound' },
  { value: 'OVERTURNED', words: 'On its back' },
  { value: 'FALL', words: 'Fall' },
  { value: 'STUCK', words: 'Stuck' },
  { value: 'OTHER', words: 'Other' },
];
const CAUSES: readonly Option[] = [
  { value: 'UNKNOWN', words: 'Not known' },
  { value: 'PREDATOR', words: 'Predator' },
  { value: 'HEAT', words: 'Heat' },
  { value: 'COLD', words: 'Cold' },
  { value: 'DROWNED', words: 'Drowned' },
  { value: 'ILLNESS', words: 'Illness' },
  { value: 'INJURY', words: 'Injury' },
  { value: 'OLD_AGE', words: 'Old age' },
];

/** A number as typed, with either decimal sign; null where it is none. */
const number = (text = ''): number | null => {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) ? null : value;
};
const count = (text = ''): number | null => {
  const value = number(text);
  return value !== null && Number.isInteger(value) && value >= 0 ? value : null;
};
const ids = (text = '') => text.split(' ').filter(Boolean);
const wordsOf = (options: readonly Option[], value = '') =>
  options.find((option) => option.value === value)?.words ?? value;

const penOptions = ({ pens }: RoundCopy, but: string | null): Option[] => [
  ...pens.filter(({ id }) => id !== but).map(({ id, name }) => ({ value: id, words: name })),
  { value: '', words: 'In no pen' },
];

/** Everything that can be written of one animal on a round. */
export function actsOfAnimal(animal: RoundAnimal, copy: RoundCopy): Act[] {
  const { id, code } = animal;
  const others = copy.animals.filter(
    (other) => other.sex !== animal.sex && other.sex !== 'UNKNOWN' && other.id !== id,
  );
  const mates = [
    ...others.filter(({ penId }) => penId === animal.penId),
    ...others.filter(({ penId }) => penId !== animal.penId),
  ].map((other) => ({ value: other.id, words: named(other) }));
  const acts: (Act | null)[] = [
    {
      key: 'weigh',
      title: 'Weigh',
      fields: [{ kind: 'number', name: 'mass', label: 'Weight', unit: 'g' }],
      make: ({ mass }) => {
        const massG = number(mass);
        if (massG === null || massG <= 0) return 'Type the weight in grams, for example 861.';
        return {
          words: `${code} weighed, ${massWords(massG)}`,
          says: { measured: { animal: id, massG } },
        };
      },
    },
    {
      key: 'measure',
      title: 'Measure',
      fields: [
        { kind: 'number', name: 'scl', label: 'Shell length, straight', unit: 'mm' },
        { kind: 'number', name: 'plastron', label: 'Plastron', unit: 'mm' },
      ],
      make: ({ scl, plastron }) => {
        const sclMm = number(scl) ?? undefined;
        const plastronMm = number(plastron) ?? undefined;
        if (!sclMm && !plastronMm) return 'Type a length in millimetres, for example 162.';
        const said = [sclMm && `${sclMm} mm`, plastronMm && `plastron ${plastronMm} mm`];
        return {
          words: `${code} measured, ${said.filter(Boolean).join(', ')}`,
          says: { measured: { animal: id, sclMm, plastronMm } },
        };
      },
    },
    {
      key: 'move',
      title: 'Move',
      fields: [
        {
          kind: 'one',
          name: 'pen',
          label: 'To which pen?',
          options: penOptions(copy, animal.penId),
        },
      ],
      make: ({ pen }) => ({
        words: `${code} moved: ${wordsOf(penOptions(copy, null), pen)}`,
        says: { move: { animals: [id], pen: pen || null } },
      }),
    },
    animal.sex === 'MALE'
      ? null
      : {
          key: 'laid',
          title: 'Eggs',
          fields: [
            { kind: 'number', name: 'eggs', label: 'Eggs' },
            { kind: 'number', name: 'broken', label: 'Of them broken' },
            { kind: 'tick', name: 'seen', label: 'I saw her lay' },
          ],
          make: ({ eggs, broken, seen }) => {
            const laid = count(eggs);
            if (!laid) return 'Type how many eggs, for example 12.';
            return {
              words: `${code} laid ${laid}`,
              says: {
                laid: {
                  dams: [{ ref: id }],
                  eggs: laid,
                  broken: count(broken) ?? undefined,
                  seenLaying: seen === 'yes',
                  pen: animal.penId,
                },
              },
            };
          },
        },
    animal.sex === 'UNKNOWN' || mates.length === 0
      ? null
      : {
          key: 'mating',
          title: 'Mating',
          fields: [{ kind: 'one', name: 'with', label: 'With whom?', options: mates }],
          make: ({ with: other = '' }) => ({
            words: `${code} seen mating with ${wordsOfMate(mates, other)}`,
            says: {
              mating:
                animal.sex === 'MALE' ? { male: id, female: other } : { male: other, female: id },
            },
          }),
        },
    {
      key: 'colour',
      title: 'Colour',
      fields: [
        {
          kind: 'several',
          name: 'seen',
          label: 'Shows (tick none where it shows none of these)',
          options: copy.traits.map((trait) => ({
            value: trait.replaceAll(' ', '\u00a0'),
            words: trait,
          })),
        },
        { kind: 'text', name: 'parts', label: 'Looked at: eye, shell, skin' },
      ],
      make: ({ seen, parts }) => {
        const traits = ids(seen).map((trait) => trait.replaceAll('\u00a0', ' '));
        return {
          words: `${code} looked at: ${traits.join(', ') || 'none of the traits'}`,
          says: { colour: { animal: id, seen: traits, parts: parts || undefined } },
        };
      },
    },
    {
      key: 'wound',
      title: 'Wound, fight',
      fields: [{ kind: 'one', name: 'what', label: 'What happened?', options: INCIDENTS }],
      make: ({ what }) => ({
        words: `${code}: ${wordsOf(INCIDENTS, what).toLowerCase()}`,
        says: { incident: { animal: id, what } },
      }),
    },
    {
      key: 'ill',
      title: 'Ill',
      fields: [
        {
          kind: 'text',
          name: 'what',
          label: 'What is it? A veterinarian judges; write what you see.',
        },
      ],
      make: ({ what }) =>
        what?.trim()
          ? {
              words: `${code}: ${what.trim()}`,
              says: { health: { animal: id, what: what.trim() } },
            }
          : 'Write what you see, for example: left eye shut.',
    },
    {
      key: 'note',
      title: 'Note',
      fields: [{ kind: 'text', name: 'text', label: 'Note' }],
      make: ({ text }) =>
        text?.trim()
          ? { words: `${code}: ${text.trim()}`, says: { noted: { animal: id, text: text.trim() } } }
          : 'Write the note.',
    },
    {
      key: 'gone',
      title: 'Escaped',
      fields: [
        {
          kind: 'one',
          name: 'sure',
          label: 'Not here, and not only hidden?',
          options: [{ value: 'yes', words: 'It got out' }],
        },
      ],
      make: () => ({ words: `${code} escaped`, says: { gone: { animal: id } } }),
    },
    {
      key: 'dead',
      title: 'Dead',
      fields: [{ kind: 'one', name: 'cause', label: 'What of?', options: CAUSES }],
      make: ({ cause }) => ({
        words: `${code} found dead (${wordsOf(CAUSES, cause).toLowerCase()})`,
        says: { died: { animal: id, cause } },
      }),
    },
  ];
  return acts.filter((act) => act !== null);
}

const wordsOfMate = (mates: readonly Option[], id: string) =>
  mates.find(({ value }) => value === id)?.words ?? id;

export const named = ({ code, name }: { code: string; name: string | null }): string =>
  name && name !== code ? `${code} ${name}` : code;

/** What can be written of a pen as a whole. */
export function actsOfPen(pen: RoundCopy['pens'][number], copy: RoundCopy): Act[] {
  const mothers = copy.animals
    .filter(({ penId, sex }) => penId === pen.id && sex !== 'MALE')
    .map((animal) => ({ value: animal.id, words: named(animal) }));
  return [
    {
      key: 'eggs',
      title: 'Eggs found',
      fields: [
        { kind: 'number', name: 'eggs', label: 'Eggs' },
        { kind: 'several', name: 'dams', label: 'Whose they may be', options: mothers },
      ],
      make: ({ eggs, dams }) => {
        const laid = count(eggs);
        if (!laid) return 'Type how many eggs, for example 12.';
        const refs = ids(dams).map((ref) => ({ ref }));
        return {
          words: `${laid} eggs found in ${pen.name}`,
          says: { laid: { dams: refs, eggs: laid, pen: pen.id } },
        };
      },
    },
    {
      key: 'heads',
      title: 'Count heads',
      fields: [{ kind: 'number', name: 'heads', label: 'Heads counted' }],
      make: ({ heads }) => {
        const seen = count(heads);
        if (seen === null) return 'Type how many you counted.';
        return {
          words: `${pen.name}: ${seen} counted`,
          says: { seen: { pen: pen.id, count: seen } },
        };
      },
    },
    {
      key: 'note',
      title: 'Note',
      fields: [{ kind: 'text', name: 'text', label: 'Note on the pen' }],
      make: ({ text }) =>
        text?.trim()
          ? {
              words: `${pen.name}: ${text.trim()}`,
              says: { noted: { pen: pen.id, text: text.trim() } },
            }
          : 'Write the note.',
    },
  ];
}

/** What can be written of a lot. */
export function actsOfLot(lot: RoundLot, copy: RoundCopy): Act[] {
  const counted = (key: 'counted' | 'died' | 'lost', title: string, said: string): Act => ({
    key,
    title,
    fields: [{ kind: 'number', name: 'count', label: title }],
    make: ({ count: typed }) => {
      const many = count(typed);
      if (many === null || (many === 0 && key !== 'counted')) return 'Type how many.';
      return {
        words: `Lot ${lot.code}: ${many} ${said}`,
        says: { lot: { lot: lot.id, [key]: many } },
      };
    },
  });
  return [
    counted('counted', 'Count', 'counted'),
    counted('died', 'Died', 'died'),
    counted('lost', 'Lost', 'lost'),
    {
      key: 'move',
      title: 'Move',
      fields: [
        { kind: 'one', name: 'pen', label: 'To which pen?', options: penOptions(copy, lot.penId) },
      ],
      make: ({ pen }) => ({
        words: `Lot ${lot.code} moved: ${wordsOf(penOptions(copy, null), pen)}`,
        says: { move: { lots: [lot.id], pen: pen || null } },
      }),
    },
  ];
}
