import type { EntryField } from '../entry-form.js';

// Fields that several forms ask for in the same words.

export const WHEN = { label: 'When', isNeeded: true };
export const PEN: EntryField = {
  name: 'pen',
  label: 'Pen',
  shape: 'pen',
  none: 'No pen to write down',
};
export const CLUTCH: EntryField = {
  name: 'clutch',
  label: 'Clutch',
  shape: 'clutch',
  isNeeded: true,
};
export const LOT: EntryField = { name: 'lot', label: 'Lot', shape: 'lot', isNeeded: true };
export const ANIMAL: EntryField = {
  name: 'animal',
  label: 'Animal',
  shape: 'animal',
  isNeeded: true,
};
export const CAUSE: EntryField = {
  name: 'cause',
  label: 'What of, as far as anybody knows',
  shape: 'choice',
  none: 'Nobody knows',
  options: [
    { value: 'PREDATOR', words: 'A predator' },
    { value: 'HEAT', words: 'Heat' },
    { value: 'COLD', words: 'Cold' },
    { value: 'DROWNED', words: 'Drowned' },
    { value: 'ILLNESS', words: 'Illness' },
    { value: 'INJURY', words: 'Injury' },
    { value: 'OLD_AGE', words: 'Old age' },
  ],
};
export const CONFIDENCE: EntryField = {
  name: 'confidence',
  label: 'How sure',
  shape: 'choice',
  none: 'Not said',
  isMore: true,
  options: [
    { value: 'SURE', words: 'Sure' },
    { value: 'LIKELY', words: 'Likely' },
    { value: 'GUESS', words: 'A guess' },
  ],
};
export const PARTS: EntryField = {
  name: 'parts',
  label: 'What was looked at',
  shape: 'line',
  hint: 'Eye, shell, skin: what you saw of each.',
  isMore: true,
};
