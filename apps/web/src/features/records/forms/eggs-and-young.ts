import type { EntryForm } from '../entry-form.js';
import { CLUTCH, PEN } from './shared-fields.js';

export const EGGS_AND_YOUNG: readonly EntryForm[] = [
  {
    id: 'laid',
    kind: 'laid',
    title: 'Eggs laid',
    about: 'A clutch was laid, or found.',
    day: { label: 'Laid', isNeeded: true },
    fields: [
      {
        name: 'dams',
        label: 'Mother',
        shape: 'animals',
        hint: 'One, or every female that it may be.',
      },
      {
        name: 'seenLaying',
        label: 'She was seen laying',
        shape: 'tick',
      },
      {
        name: 'itIsFemale',
        label: 'It laid: write it down as female from now on',
        shape: 'tick',
        afterFaultAt: ['dams', 'itIsFemale'],
      },
      { name: 'eggs', label: 'Eggs', shape: 'count', hint: 'All of them, broken ones too.' },
      { name: 'broken', label: 'Of them broken', shape: 'count' },
      {
        name: 'notSet',
        label: 'Of them not set',
        shape: 'count',
        hint: 'On purpose, because there is no place for the young.',
      },
      { ...PEN, label: 'Where it was laid' },
      {
        name: 'clutch',
        label: 'Code of the clutch',
        shape: 'line',
        hint: 'Left empty, it gets the next one.',
        isMore: true,
      },
    ],
    next: [{ words: 'Set eggs of', form: 'set', keep: ['clutch'] }],
  },
  {
    id: 'set',
    kind: 'set',
    title: 'Eggs set',
    about: 'Eggs went into a box.',
    day: { label: 'Set', isNeeded: true },
    fields: [
      CLUTCH,
      { name: 'eggs', label: 'Eggs set', shape: 'count', isNeeded: true },
      {
        name: 'celsius',
        label: 'Temperature, degrees Celsius',
        shape: 'number',
        hint: 'At the egg, not of the air: they can differ by 2 degrees.',
      },
      {
        name: 'batch',
        label: 'Box',
        shape: 'line',
        hint: 'Only where one clutch is in several boxes.',
        isMore: true,
      },
    ],
    next: [
      { words: 'What became of eggs of', form: 'eggs', keep: ['clutch'] },
      { words: 'Hatched of', form: 'hatched', keep: ['clutch'] },
    ],
  },
  {
    id: 'warmth',
    kind: 'warmth',
    title: 'Temperature of a box',
    about: 'Eggs are kept at another temperature from this day on.',
    day: { label: 'From', isNeeded: true },
    fields: [
      CLUTCH,
      {
        name: 'celsius',
        label: 'Temperature, degrees Celsius',
        shape: 'number',
        isNeeded: true,
      },
      { name: 'batch', label: 'Box', shape: 'line', hint: 'Left empty: every box of the clutch.' },
    ],
    caution: {
      lead: 'Heat kills eggs.',
      text: 'Measure next to the shell. Hermann’s eggs kept at 35 degrees: none of 3 hatched; red-foot eggs at 31: 5 of 47.',
      source:
        'Eendebak 2001; Gaviria-Hernandez et al. 2021, Chelonian Conserv. Biol. 20:71-81. A veterinarian comes first.',
    },
  },
  {
    id: 'eggs',
    kind: 'eggs',
    title: 'Eggs that did not hatch',
    about: 'What became of them, once they were opened or candled.',
    day: { label: 'Looked at', isNeeded: false },
    fields: [
      CLUTCH,
      { name: 'infertile', label: 'Infertile', shape: 'count' },
      { name: 'diedEarly', label: 'Died early', shape: 'count' },
      { name: 'diedLate', label: 'Died late', shape: 'count' },
      { name: 'lost', label: 'Lost: broken, eaten, gone', shape: 'count' },
      {
        name: 'embryosSeen',
        label: 'What dead young in the shell showed',
        shape: 'trait-counts',
        hint: 'A pale embryo tells as much as a pale young one.',
        isMore: true,
      },
    ],
    next: [{ words: 'Hatched of', form: 'hatched', keep: ['clutch'] }],
  },
  {
    id: 'hatched',
    kind: 'hatched',
    title: 'Young hatched',
    about: 'They become animals with codes, or a counted lot.',
    day: { label: 'Hatched', isNeeded: true },
    fields: [
      CLUTCH,
      { name: 'count', label: 'How many', shape: 'count', isNeeded: true },
      {
        name: 'codes',
        label: 'Codes of those with one',
        shape: 'codes',
        hint: 'The others are counted as a lot. Leave it empty to count all as a lot.',
      },
      {
        name: 'lot',
        label: 'Lot of the others',
        shape: 'line',
        hint: 'Left empty, it is called like the clutch.',
        isMore: true,
      },
      { ...PEN, label: 'Where they are put' },
    ],
    next: [
      { words: 'Colour check of', form: 'colour-count', keep: ['clutch'] },
      { words: 'What became of the other eggs of', form: 'eggs', keep: ['clutch'] },
    ],
  },
  {
    id: 'found',
    kind: 'found',
    title: 'Young found',
    about: 'In the grass, or out of a dropped box: of one of several clutches, or of none known.',
    day: { label: 'Found', isNeeded: true },
    fields: [
      {
        name: 'codes',
        label: 'Codes they get',
        shape: 'codes',
        isNeeded: true,
      },
      { name: 'clutches', label: 'Clutches they may be of', shape: 'clutches' },
      {
        name: 'species',
        label: 'Species',
        shape: 'line',
        hint: 'Needed where no clutch is named.',
        isMore: true,
      },
      { name: 'hatched', label: 'Hatched', shape: 'date', isMore: true },
    ],
  },
];
