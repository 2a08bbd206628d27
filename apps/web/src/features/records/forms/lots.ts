import type { EntryForm } from '../entry-form.js';
import { CAUSE, LOT, WHEN } from './shared-fields.js';

export const LOTS: readonly EntryForm[] = [
  {
    id: 'lot-counted',
    kind: 'lot',
    title: 'Lot counted',
    about: 'So many are there; the book is set right.',
    day: WHEN,
    fields: [LOT, { name: 'counted', label: 'How many are there', shape: 'count', isNeeded: true }],
  },
  {
    id: 'lot-died',
    kind: 'lot',
    title: 'Some of a lot died',
    about: 'Found dead.',
    day: WHEN,
    fields: [LOT, { name: 'died', label: 'How many', shape: 'count', isNeeded: true }, CAUSE],
  },
  {
    id: 'lot-lost',
    kind: 'lot',
    title: 'Some of a lot are missing',
    about: 'Not found, alive or dead.',
    day: WHEN,
    fields: [LOT, { name: 'lost', label: 'How many', shape: 'count', isNeeded: true }],
  },
  {
    id: 'lot-split',
    kind: 'lot',
    title: 'Lot split',
    about: 'Some become a lot of their own.',
    day: WHEN,
    fields: [
      LOT,
      { name: 'split.count', label: 'How many go', shape: 'count', isNeeded: true },
      { name: 'split.into', label: 'Code of their lot', shape: 'line', isNeeded: true },
    ],
  },
  {
    id: 'lot-merged',
    kind: 'lot',
    title: 'Lots put together',
    about: 'All of one lot join another.',
    day: WHEN,
    fields: [
      LOT,
      { name: 'mergeInto', label: 'Which lot they join', shape: 'lot', isNeeded: true },
    ],
  },
  {
    id: 'lot-promoted',
    kind: 'lot',
    title: 'Some of a lot get codes',
    about: 'They become animals of their own; the rest stay a lot.',
    day: WHEN,
    fields: [LOT, { name: 'promote', label: 'Their codes', shape: 'codes', isNeeded: true }],
  },
];
