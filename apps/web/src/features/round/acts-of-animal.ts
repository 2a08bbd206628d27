import { type Act, chosen, named, number, type Option, wordsOf } from './act.js';
import { eggsOf } from './acts-of-clutch.js';
import {
  asOptions,
  CAUSES,
  INCIDENTS,
  MARKS,
  PAPERS,
  penOptions,
  SEXES,
  WAYS_OUT,
} from './choices.js';
import type { RoundAnimal, RoundCopy } from './round-documents.js';
import { massWords } from './with-queue.js';

const SEXED_BY: readonly Option[] = [
  { value: 'plastron', words: 'Plastron' },
  { value: 'tail', words: 'Tail' },
  { value: 'endoscopy', words: 'Endoscopy' },
  { value: 'behaviour', words: 'Behaviour' },
];

/** Everything that can be written of one animal on a round, the most frequent first. */
export function actsOfAnimal(animal: RoundAnimal, copy: RoundCopy): Act[] {
  const { id, code } = animal;
  const isBreeder = animal.sex !== 'UNKNOWN';
  const mates = matesOf(animal, copy);
  const acts: (Act | null)[] = [
    ...sizeActs(animal),
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
        words: `${code} moved: ${wordsOf(penOptions(copy), pen)}`,
        says: { move: { animals: [id], pen: pen || null } },
      }),
    },
    animal.sex === 'MALE' ? null : eggsOf(animal),
    !isBreeder || mates.length === 0
      ? null
      : {
          key: 'mating',
          title: 'Mating',
          fields: [{ kind: 'one', name: 'with', label: 'With whom?', options: mates }],
          make: ({ with: other = '' }) => ({
            words: `${code} seen mating with ${wordsOf(mates, other)}`,
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
          options: asOptions(copy.traits),
        },
        {
          kind: 'several',
          name: 'absent',
          label: 'Looked for, and not seen',
          options: asOptions(copy.traits),
        },
        { kind: 'line', name: 'parts', label: 'Looked at: eye, shell, skin', keep: 'parts' },
      ],
      make: ({ seen, absent: missing, parts }) => {
        const traits = chosen(seen);
        const absent = chosen(missing);
        const both = traits.find((trait) => absent.includes(trait));
        if (both) return `It cannot show ${both} and be without it: untick one.`;
        const said = [...traits, ...absent.map((trait) => `no ${trait}`)];
        return {
          words: `${code} looked at: ${said.join(', ') || 'none of the traits'}`,
          says: { colour: { animal: id, seen: traits, absent, parts: parts?.trim() || undefined } },
        };
      },
    },
    {
      key: 'sex',
      title: 'Sex',
      fields: [
        {
          kind: 'choice',
          name: 'method',
          label: 'Told by',
          options: SEXED_BY,
          keep: 'sexed-by',
        },
        { kind: 'one', name: 'sex', label: 'It is', options: SEXES },
      ],
      make: ({ sex, method }) => ({
        words: `${code}: ${wordsOf(SEXES, sex).toLowerCase()}`,
        says: { sexed: { animal: id, sex, method: method || undefined } },
      }),
    },
    {
      key: 'mark',
      title: 'Mark, chip',
      fields: [
        {
          kind: 'choice',
          name: 'scheme',
          label: 'Kind of mark',
          options: MARKS,
          keep: 'mark-scheme',
        },
        { kind: 'line', name: 'text', label: 'The mark, as it is read' },
        { kind: 'tick', name: 'lost', label: 'It is gone or cannot be read any more' },
      ],
      make: ({ scheme, text, lost }) => {
        if (!scheme) return 'Choose what kind of mark it is.';
        if (!text?.trim()) return 'Write the mark as it is read.';
        const isLost = lost === 'yes';
        return {
          words: `${code}: ${wordsOf(MARKS, scheme).toLowerCase()} ${text.trim()}${isLost ? ' lost' : ''}`,
          says: { marked: { animal: id, scheme, text: text.trim(), isLost: isLost || undefined } },
        };
      },
    },
    // Young made without signal go by their code until the computer knows them.
    id === code ? null : photo(animal),
    ...mishaps(animal, copy),
    {
      key: 'left',
      title: 'Left',
      isEnd: true,
      caution: PAPERS,
      fields: [
        { kind: 'line', name: 'contact', label: 'To whom (may stay empty)' },
        { kind: 'one', name: 'way', label: 'How?', options: WAYS_OUT },
      ],
      make: ({ way, contact }) => ({
        words: `${code}: ${wordsOf(WAYS_OUT, way).toLowerCase()}`,
        says: { transferred: { animal: id, way, contact: contact?.trim() || undefined } },
      }),
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
    foundDead(animal),
  ];
  return acts.filter((act) => act !== null);
}

export function foundDead({ id, code }: { readonly id: string; readonly code: string }): Act {
  return {
    key: 'dead',
    title: 'Dead',
    isEnd: true,
    caution:
      'A veterinarian can often say why: keep the body cool, not frozen, and ask the same day. Common practice, no source.',
    fields: [{ kind: 'one', name: 'cause', label: 'What of?', options: CAUSES }],
    make: ({ cause }) => ({
      words: `${code} found dead (${wordsOf(CAUSES, cause).toLowerCase()})`,
      says: { died: { animal: id, cause } },
    }),
  };
}

function photo({ id, code }: RoundAnimal): Act {
  return {
    key: 'photo',
    title: 'Photo',
    fields: [
      { kind: 'picture', name: 'picture', label: 'Take or choose a photo' },
      { kind: 'line', name: 'caption', label: 'What is to be seen (may stay empty)' },
    ],
    make: ({ picture, caption = '' }) =>
      picture
        ? {
            words: `${code}: photo${caption.trim() && `, ${caption.trim()}`}`,
            says: { photo: { animal: id, caption: caption.trim() || null } },
            picture,
          }
        : 'Take or choose a photo first.',
  };
}

function sizeActs({ id, code }: RoundAnimal): Act[] {
  return [
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
  ];
}

function mishaps({ id, code, penId }: RoundAnimal, copy: RoundCopy): Act[] {
  const near = copy.animals
    .filter((other) => other.penId === penId && other.id !== id)
    .map((other) => ({ value: other.id, words: named(other) }));
  return [
    {
      key: 'wound',
      title: 'Wound, fight',
      caution:
        'Part those that fight the same day; have wounds seen by a veterinarian. Common practice, no source.',
      fields: [
        ...(near.length > 0
          ? [
              {
                kind: 'choice' as const,
                name: 'other',
                label: 'With another of this pen',
                options: near,
              },
            ]
          : []),
        { kind: 'one', name: 'what', label: 'What happened?', options: INCIDENTS },
      ],
      make: ({ what, other }) => ({
        words: `${code}: ${wordsOf(INCIDENTS, what).toLowerCase()}${other ? ` with ${wordsOf(near, other)}` : ''}`,
        says: { incident: { animal: id, what, other: other || undefined } },
      }),
    },
    {
      key: 'ill',
      title: 'Ill',
      caution:
        'Not eating, breathing with the mouth open or unable to walk: a veterinarian the same day. Common practice, no source.',
      fields: [{ kind: 'text', name: 'what', label: 'What do you see?' }],
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
  ];
}

/** Those of the other sex, of the same pen first. */
function matesOf(animal: RoundAnimal, { animals }: RoundCopy): Option[] {
  const others = animals.filter(
    ({ sex, id }) => sex !== animal.sex && sex !== 'UNKNOWN' && id !== animal.id,
  );
  return others
    .toSorted((a, b) => Number(b.penId === animal.penId) - Number(a.penId === animal.penId))
    .map((other) => ({ value: other.id, words: named(other) }));
}
