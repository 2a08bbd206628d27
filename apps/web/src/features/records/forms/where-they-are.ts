import type { EntryForm } from '../entry-form.js';
import { ANIMAL, PEN, WHEN } from './shared-fields.js';

export const WHERE_THEY_ARE: readonly EntryForm[] = [
  {
    id: 'move',
    kind: 'move',
    title: 'Moved',
    about: 'Animals or lots go into a pen, or out of all pens. A day to come is a plan.',
    day: { label: 'From', isNeeded: true },
    fields: [
      { name: 'animals', label: 'Animals', shape: 'animals' },
      { name: 'lots', label: 'Lots', shape: 'lots' },
      { ...PEN, label: 'To which pen', none: 'Out of all pens' },
    ],
  },
  {
    id: 'stayed',
    kind: 'stayed',
    title: 'Was in a pen',
    about: 'Told afterwards: these ran together from when to when.',
    fields: [
      { name: 'animals', label: 'Animals', shape: 'animals', isNeeded: true },
      { ...PEN, isNeeded: true, none: 'Choose one' },
      { name: 'from', label: 'From', shape: 'date', hint: 'Empty: nobody knows since when.' },
      { name: 'to', label: 'Until', shape: 'date', hint: 'Empty: still there.' },
    ],
  },
  {
    id: 'seen',
    kind: 'seen',
    title: 'Seen',
    about: 'Animals were seen alive, or the heads in a pen counted.',
    day: WHEN,
    fields: [
      { name: 'animals', label: 'Animals', shape: 'animals' },
      { ...PEN, label: 'In which pen' },
      { name: 'count', label: 'Heads counted in the pen', shape: 'count' },
    ],
  },
  {
    id: 'breach',
    kind: 'breach',
    title: 'Fence or gate stood open',
    about: 'Animals of one pen may have met those of the other.',
    day: { label: 'Since', isNeeded: true },
    fields: [
      { name: 'pens.0', label: 'One pen', shape: 'pen', isNeeded: true, none: 'Choose one' },
      { name: 'pens.1', label: 'The other pen', shape: 'pen', isNeeded: true, none: 'Choose one' },
      { name: 'until', label: 'Until', shape: 'date' },
    ],
  },
  {
    id: 'escaped',
    kind: 'gone',
    title: 'Escaped',
    about: 'It is gone, and nobody found it dead.',
    day: { label: 'Missed since', isNeeded: true },
    fields: [ANIMAL],
  },
  {
    id: 'came-back',
    kind: 'gone',
    title: 'Came back',
    about: 'One that had escaped was found again.',
    day: { label: 'Found again', isNeeded: true },
    fixed: { isBack: true },
    fields: [
      ANIMAL,
      {
        name: 'knownBy',
        label: 'Known by',
        shape: 'line',
        hint: 'The mark or photo: another tortoise may look like it.',
      },
      { ...PEN, label: 'Where it is put' },
    ],
    caution: {
      lead: 'Keep it apart first.',
      text: 'It may have met strange animals: put it in a quarantine pen, and ask a veterinarian how long.',
      source: 'Common practice, no source.',
    },
  },
];
