import type { Option } from './act.js';
import type { RoundCopy } from './round-documents.js';

export const INCIDENTS: readonly Option[] = [
  { value: 'FIGHT', words: 'Fight' },
  { value: 'WOUND', words: 'Wound' },
  { value: 'OVERTURNED', words: 'On its back' },
  { value: 'FALL', words: 'Fall' },
  { value: 'STUCK', words: 'Stuck' },
  { value: 'OTHER', words: 'Other' },
];

export const CAUSES: readonly Option[] = [
  { value: 'UNKNOWN', words: 'Not known' },
  { value: 'PREDATOR', words: 'Predator' },
  { value: 'HEAT', words: 'Heat' },
  { value: 'COLD', words: 'Cold' },
  { value: 'DROWNED', words: 'Drowned' },
  { value: 'ILLNESS', words: 'Illness' },
  { value: 'INJURY', words: 'Injury' },
  { value: 'OLD_AGE', words: 'Old age' },
];

export const WAYS_OUT: readonly Option[] = [
  { value: 'SOLD', words: 'Sold' },
  { value: 'GIVEN_AWAY', words: 'Given away' },
  { value: 'LENT', words: 'Lent out' },
  { value: 'SENT_BACK', words: 'Sent back' },
];

export const WAYS_IN: readonly Option[] = [
  { value: 'BOUGHT', words: 'Bought' },
  { value: 'RECEIVED', words: 'Given to us' },
  { value: 'BORROWED', words: 'Borrowed' },
];

export const SEXES: readonly Option[] = [
  { value: 'FEMALE', words: 'Female' },
  { value: 'MALE', words: 'Male' },
  { value: 'UNKNOWN', words: 'Not to be told yet' },
];

export const MARKS: readonly Option[] = [
  { value: 'CHIP', words: 'Chip' },
  { value: 'NOTCHES', words: 'Notches' },
  { value: 'TAG', words: 'Tag' },
  { value: 'PAINT', words: 'Paint' },
  { value: 'PHOTO', words: 'Photo' },
  { value: 'OTHER', words: 'Other' },
];

export const QUARANTINE =
  'It was outside: keep it apart, with tools of its own, and ask a veterinarian how long. Common practice, no source; local codes come first.';
export const PAPERS =
  'Many tortoises may be sold or moved only with papers or a permit (CITES lists the whole family). Local codes and permits come first.';

/** Every pen but one, and no pen at all. */
export const penOptions = ({ pens }: RoundCopy, but: string | null = null): Option[] => [
  ...pens.filter(({ id }) => id !== but).map(({ id, name }) => ({ value: id, words: name })),
  { value: '', words: 'In no pen' },
];

/** Quarantine first: for what came from outside. */
export const quarantineFirst = ({ pens }: RoundCopy): Option[] =>
  pens
    .toSorted((a, b) => Number(b.isQuarantine) - Number(a.isQuarantine))
    .map(({ id, name, isQuarantine }) => ({
      value: id,
      words: isQuarantine ? `${name}, quarantine` : name,
    }));

export const asOptions = (names: readonly string[]): Option[] =>
  names.map((name) => ({ value: name, words: name }));
