import type { EntryField, EntryForm } from '../entry-form.js';
import { ANIMAL, CAUSE, LOT, PEN, WHEN } from './shared-fields.js';

const FROM_OUTSIDE = {
  lead: 'New animals go into quarantine.',
  text: 'Keep them apart, with tools of their own, and ask a veterinarian how long and which tests.',
  source: 'Common practice, no source. Local codes and permits come first.',
};

const HOW = {
  name: 'way',
  label: 'How',
  shape: 'choice',
  isNeeded: true,
  none: 'Choose one',
} as const;
const WAYS_IN = [
  { value: 'BOUGHT', words: 'Bought' },
  { value: 'RECEIVED', words: 'Given to us' },
  { value: 'BORROWED', words: 'Borrowed' },
];
const FROM_WHOM: readonly EntryField[] = [
  { name: 'contact', label: 'From whom', shape: 'line' },
  { ...PEN, label: 'Where it is put' },
];

export const COMING_AND_GOING: readonly EntryForm[] = [
  {
    id: 'arrived-new',
    kind: 'transferred',
    title: 'A new animal arrived',
    about: 'Bought, given or lent to you, and not in the register yet: it is added.',
    day: WHEN,
    fields: [
      { name: 'newcomer.code', label: 'Code it gets', shape: 'line', isNeeded: true },
      { name: 'newcomer.name', label: 'Name', shape: 'line', isMore: true },
      {
        name: 'newcomer.sex',
        label: 'Sex',
        shape: 'choice',
        options: [
          { value: 'FEMALE', words: 'Female' },
          { value: 'MALE', words: 'Male' },
        ],
      },
      { name: 'newcomer.hatched', label: 'Hatched', shape: 'date', hint: 'The year will do.' },
      {
        name: 'newcomer.species',
        label: 'Species',
        shape: 'line',
        hint: 'Left empty: the one species of the program.',
      },
      { ...HOW, options: WAYS_IN },
      ...FROM_WHOM,
    ],
    caution: FROM_OUTSIDE,
  },
  {
    id: 'arrived',
    kind: 'transferred',
    title: 'Arrived',
    about: 'One of the register came: bought, lent to you, or back from a loan.',
    day: WHEN,
    fields: [
      ANIMAL,
      { ...HOW, options: [...WAYS_IN, { value: 'CAME_BACK', words: 'Came back from a loan' }] },
      ...FROM_WHOM,
    ],
    caution: FROM_OUTSIDE,
  },
  {
    id: 'left',
    kind: 'transferred',
    title: 'Left',
    about: 'Sold, given away, lent out or sent back.',
    day: WHEN,
    fields: [
      { ...ANIMAL, isNeeded: false, hint: 'Or a lot below.' },
      { ...LOT, isNeeded: false },
      { name: 'count', label: 'How many of the lot', shape: 'count' },
      {
        ...HOW,
        options: [
          { value: 'SOLD', words: 'Sold' },
          { value: 'GIVEN_AWAY', words: 'Given away' },
          { value: 'LENT', words: 'Lent out' },
          { value: 'SENT_BACK', words: 'Sent back' },
        ],
      },
      { name: 'contact', label: 'To whom', shape: 'line' },
    ],
    caution: {
      lead: 'Papers first.',
      text: 'Many tortoises may be sold or moved only with papers or a permit.',
      source: 'CITES lists the whole family Testudinidae. Local codes and permits come first.',
    },
  },
  {
    id: 'died',
    kind: 'died',
    title: 'Died',
    about: 'Nothing is deleted: it stays in every line it stands in.',
    day: { label: 'Died, or was found', isNeeded: true },
    fields: [ANIMAL, CAUSE],
    caution: {
      lead: 'A veterinarian can often say why.',
      text: 'Keep the body cool, not frozen, and ask the same day.',
      source: 'Common practice, no source.',
    },
  },
];
