import { type Act, chosen, codes, count, named, wordsOf } from './act.js';
import { foundDead } from './acts-of-animal.js';
import { eggsFoundIn } from './acts-of-clutch.js';
import { asOptions, penOptions, QUARANTINE, quarantineFirst, SEXES, WAYS_IN } from './choices.js';
import type { RoundAway, RoundCopy, RoundPen } from './round-documents.js';

/** What can be written of a pen as a whole, the most frequent first. */
export function actsOfPen(pen: RoundPen, copy: RoundCopy): Act[] {
  const here = copy.animals
    .filter(({ penId }) => penId === pen.id)
    .map((animal) => ({ value: animal.id, words: named(animal) }));
  const others = penOptions(copy, pen.id);
  return [
    eggsFoundIn(pen, copy),
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
      key: 'many',
      title: 'Move many',
      fields: [
        { kind: 'several', name: 'who', label: 'Who goes', options: here },
        { kind: 'one', name: 'pen', label: 'To which pen?', options: others },
      ],
      make: ({ who, pen: to }) => {
        const movers = chosen(who);
        if (movers.length === 0) return 'Tap those that go, then the pen.';
        return {
          words: `${movers.length} moved: ${wordsOf(others, to)}`,
          says: { move: { animals: movers, pen: to || null } },
        };
      },
    },
    arrived(pen, copy),
    youngFound(copy),
    {
      key: 'breach',
      title: 'Fence open',
      fields: [
        {
          kind: 'one',
          name: 'other',
          label: 'Open to which pen, on that day?',
          options: others.filter(({ value }) => value !== ''),
        },
      ],
      make: ({ other = '' }) => ({
        words: `${pen.name} stood open to ${wordsOf(others, other)}`,
        says: { breach: { pens: [pen.id, other] } },
      }),
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

/** An animal that is not in the books yet comes into this pen. */
function arrived(pen: RoundPen, copy: RoundCopy): Act {
  return {
    key: 'arrived',
    title: 'Arrived',
    caution: pen.isQuarantine ? undefined : QUARANTINE,
    fields: [
      { kind: 'codes', name: 'code', label: 'Code it gets', count: '' },
      { kind: 'choice', name: 'sex', label: 'Sex', options: SEXES },
      {
        kind: 'line',
        name: 'hatched',
        label: 'Hatched, as far as known: 2012, or 2012~ for about',
      },
      ...(copy.species.length === 1
        ? []
        : [
            {
              kind: 'choice' as const,
              name: 'species',
              label: 'Species',
              options: asOptions(copy.species),
            },
          ]),
      { kind: 'line', name: 'contact', label: 'From whom (may stay empty)' },
      { kind: 'one', name: 'way', label: 'How?', options: WAYS_IN },
    ],
    make: ({ code, sex, hatched, species, contact, way }) => {
      const [only, ...more] = codes(code);
      if (!only || more.length > 0) return 'Give it one code, for example R-041.';
      if (copy.species.length > 1 && !species) return 'Choose the species.';
      const newcomer = {
        code: only,
        sex: sex || undefined,
        hatched: hatched?.trim() || undefined,
        species: species || copy.species[0],
      };
      return {
        words: `${only} arrived: ${wordsOf(WAYS_IN, way).toLowerCase()}`,
        says: {
          transferred: { newcomer, way, contact: contact?.trim() || undefined, pen: pen.id },
        },
      };
    },
  };
}

function youngFound(copy: RoundCopy): Act {
  const clutches = copy.clutches.map(({ id, code, mothers }) => ({
    value: id,
    words: `${code} ${mothers.join(' or ')}`.trim(),
  }));
  return {
    key: 'found',
    title: 'Young found',
    fields: [
      { kind: 'number', name: 'count', label: 'How many' },
      { kind: 'codes', name: 'codes', label: 'Codes they get', count: 'count' },
      { kind: 'several', name: 'clutches', label: 'Clutches they may be of', options: clutches },
    ],
    make: ({ codes: typed, clutches: of }) => {
      const given = codes(typed);
      if (given.length === 0) return 'Give each a code: tap Give codes.';
      return {
        words: `Found ${given.join(', ')}`,
        says: {
          found: {
            codes: given,
            clutches: chosen(of).map((ref) => ({ ref })),
            species: chosen(of).length === 0 ? copy.species[0] : undefined,
          },
        },
      };
    },
  };
}

/** An animal that got out or was lent comes back; one that got out may be found dead. */
export function actsOfAway(animal: RoundAway, copy: RoundCopy): Act[] {
  const { id, code } = animal;
  return [
    {
      key: 'back',
      title: 'Came back',
      caution: QUARANTINE,
      fields: [
        ...(animal.isEscaped
          ? [
              {
                kind: 'line' as const,
                name: 'knownBy',
                label: 'Known by which mark or photo? Another may look like it.',
              },
            ]
          : []),
        { kind: 'one', name: 'pen', label: 'Into which pen?', options: quarantineFirst(copy) },
      ],
      make: ({ pen, knownBy }) => ({
        words: `${code} came back: ${wordsOf(penOptions(copy), pen)}`,
        says: animal.isEscaped
          ? { gone: { animal: id, isBack: true, pen, knownBy: knownBy?.trim() || undefined } }
          : { transferred: { animal: id, way: 'CAME_BACK', pen } },
      }),
    },
    ...(animal.isEscaped ? [foundDead(animal)] : []),
  ];
}
