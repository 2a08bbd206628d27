import { type Act, chosen, codes, count, named, number, type RoundField, wordsOf } from './act.js';
import { penOptions } from './choices.js';
import type { RoundAnimal, RoundClutch, RoundCopy, RoundPen } from './round-documents.js';

const HEAT = 'Heat kills eggs: measure next to the shell, not the air. A veterinarian comes first.';

/** She laid, in the pen where she is. */
export function eggsOf({ id, code, penId }: RoundAnimal): Act {
  return {
    key: 'laid',
    title: 'Eggs',
    fields: [
      { kind: 'number', name: 'eggs', label: 'Eggs' },
      { kind: 'number', name: 'broken', label: 'Of them broken' },
      { kind: 'number', name: 'notSet', label: 'Of them not set, on purpose' },
      { kind: 'tick', name: 'seen', label: 'I saw her lay' },
    ],
    make: ({ eggs, broken, notSet, seen }) => {
      const laid = count(eggs);
      if (!laid) return 'Type how many eggs, for example 12.';
      return {
        words: `${code} laid ${laid}`,
        says: {
          laid: {
            dams: [{ ref: id }],
            eggs: laid,
            broken: count(broken) || undefined,
            notSet: count(notSet) || undefined,
            seenLaying: seen === 'yes' || undefined,
            pen: penId,
          },
        },
      };
    },
  };
}

/** Eggs were found in a pen: of one of its females. */
export function eggsFoundIn(pen: RoundPen, copy: RoundCopy): Act {
  const mothers = copy.animals
    .filter(({ penId, sex }) => penId === pen.id && sex !== 'MALE')
    .map((animal) => ({ value: animal.id, words: named(animal) }));
  return {
    key: 'eggs',
    title: 'Eggs found',
    fields: [
      { kind: 'number', name: 'eggs', label: 'Eggs' },
      { kind: 'several', name: 'dams', label: 'Whose they may be', options: mothers },
    ],
    make: ({ eggs, dams }) => {
      const laid = count(eggs);
      if (!laid) return 'Type how many eggs, for example 12.';
      const refs = chosen(dams).map((ref) => ({ ref }));
      return {
        words: `${laid} eggs found in ${pen.name}`,
        says: { laid: { dams: refs, eggs: laid, pen: pen.id } },
      };
    },
  };
}

/** What can be written of a clutch, in the order of its season. */
export function actsOfClutch(clutch: RoundClutch, copy: RoundCopy): Act[] {
  const { id, code } = clutch;
  return [
    {
      key: 'set',
      title: 'Set eggs',
      caution: HEAT,
      fields: [
        { kind: 'number', name: 'eggs', label: 'Eggs set' },
        {
          kind: 'number',
          name: 'celsius',
          label: 'Temperature at the egg',
          unit: '°C',
          keep: 'celsius',
        },
        { kind: 'line', name: 'batch', label: 'Box, only where the clutch is in several' },
      ],
      make: ({ eggs, celsius, batch }) => {
        const set = count(eggs);
        if (!set) return 'Type how many eggs went into the box.';
        return {
          words: `${code}: ${set} eggs set${number(celsius) === null ? '' : ` at ${number(celsius)} °C`}`,
          says: {
            set: {
              clutch: id,
              eggs: set,
              celsius: number(celsius) ?? undefined,
              batch: batch?.trim() || undefined,
            },
          },
        };
      },
    },
    warmth(clutch),
    outcomes(clutch, copy),
    hatched(clutch, copy),
    countedColour({ clutch: id }, code, copy),
    {
      key: 'note',
      title: 'Note',
      fields: [{ kind: 'text', name: 'text', label: 'Note on the clutch' }],
      make: ({ text }) =>
        text?.trim()
          ? { words: `${code}: ${text.trim()}`, says: { noted: { clutch: id, text: text.trim() } } }
          : 'Write the note.',
    },
  ];
}

function warmth({ id, code, boxes }: RoundClutch): Act {
  const several = boxes.length > 1;
  return {
    key: 'warmth',
    title: 'Temperature',
    caution: HEAT,
    fields: [
      {
        kind: 'number',
        name: 'celsius',
        label: 'Temperature at the egg from then on',
        unit: '°C',
      },
      ...(several
        ? [
            {
              kind: 'choice' as const,
              name: 'batch',
              label: 'Box (none: all of them)',
              options: boxes.map(({ label }) => ({ value: label, words: label })),
            },
          ]
        : []),
    ],
    make: ({ celsius, batch }) => {
      const degrees = number(celsius);
      if (degrees === null) return 'Type the temperature in degrees Celsius, for example 31.5.';
      return {
        words: `${code}: ${degrees} °C`,
        says: { warmth: { clutch: id, celsius: degrees, batch: batch || undefined } },
      };
    },
  };
}

const OUTCOMES = [
  { name: 'infertile', label: 'Infertile', words: 'infertile' },
  { name: 'diedEarly', label: 'Died early', words: 'died early' },
  { name: 'diedLate', label: 'Died late', words: 'died late' },
  { name: 'lost', label: 'Lost: broken, eaten, gone', words: 'lost' },
] as const;

function outcomes({ id, code }: RoundClutch, copy: RoundCopy): Act {
  return {
    key: 'outcomes',
    title: 'Not hatched',
    fields: [
      ...OUTCOMES.map(({ name, label }) => ({ kind: 'number' as const, name, label })),
      ...traitFields(copy, 'Of the dead in the shell:'),
    ],
    make: (filled) => {
      const counts = OUTCOMES.map(({ name, words }) => ({
        name,
        words,
        n: count(filled[name]) ?? 0,
      }));
      const some = counts.filter(({ n }) => n > 0);
      if (some.length === 0) return 'Type how many, in one field at least.';
      const embryosSeen = traitCounts(filled, copy);
      return {
        words: `${code}: ${some.map(({ n, words }) => `${n} ${words}`).join(', ')}`,
        says: {
          eggs: {
            clutch: id,
            ...Object.fromEntries(some.map(({ name, n }) => [name, n])),
            embryosSeen: embryosSeen.length > 0 ? embryosSeen : undefined,
          },
        },
      };
    },
  };
}

function hatched({ id, code }: RoundClutch, copy: RoundCopy): Act {
  const pens = penOptions(copy).filter(({ value }) => value !== '');
  return {
    key: 'hatched',
    title: 'Hatched',
    fields: [
      { kind: 'number', name: 'count', label: 'How many' },
      {
        kind: 'codes',
        name: 'codes',
        label: 'Codes of those with one; the others are counted as a lot',
        count: 'count',
      },
      { kind: 'choice', name: 'pen', label: 'Put where', options: pens, keep: 'young-pen' },
    ],
    make: ({ count: typed, codes: given, pen }) => {
      const young = count(typed);
      if (!young) return 'Type how many hatched.';
      const own = codes(given);
      if (own.length > young) return `${own.length} codes for ${young} young: take some out.`;
      return {
        words: `${code}: ${young} hatched${pen ? `, in ${wordsOf(pens, pen)}` : ''}`,
        says: {
          hatched: {
            clutch: id,
            count: young,
            codes: own.length > 0 ? own : undefined,
            pen: pen || undefined,
          },
        },
      };
    },
  };
}

/** Young looked at together, of a clutch or a lot: those not looked at say nothing. */
export function countedColour(
  of: { readonly clutch: string } | { readonly lot: string },
  code: string,
  copy: RoundCopy,
): Act {
  return {
    key: 'colour',
    title: 'Colour, by count',
    fields: [
      { kind: 'number', name: 'looked', label: 'How many were looked at' },
      ...traitFields(copy, 'Of them showed:'),
      { kind: 'line', name: 'parts', label: 'Looked at: eye, shell, skin', keep: 'parts' },
    ],
    make: (filled) => {
      const looked = count(filled.looked);
      if (!looked) return 'Type how many you looked at.';
      const counts = traitCounts(filled, copy);
      const showed = counts.map(({ trait, count: n }) => `${n} ${trait}`).join(', ');
      return {
        words: `${code}: ${looked} looked at, ${showed || 'none showed anything'}`,
        says: {
          colour: {
            ...of,
            looked,
            counts: counts.length > 0 ? counts : undefined,
            parts: filled.parts?.trim() || undefined,
          },
        },
      };
    },
  };
}

const traitFields = ({ traits }: RoundCopy, lead: string): RoundField[] =>
  traits.map((trait) => ({ kind: 'number', name: `shows ${trait}`, label: `${lead} ${trait}` }));

const traitCounts = (filled: Record<string, string>, { traits }: RoundCopy) =>
  traits.flatMap((trait) => {
    const n = count(filled[`shows ${trait}`]);
    return n ? [{ trait, count: n }] : [];
  });
