import type { EntryForm } from './entry-form.js';
import { COMING_AND_GOING } from './forms/coming-and-going.js';
import { EGGS_AND_YOUNG } from './forms/eggs-and-young.js';
import { LOTS } from './forms/lots.js';
import { ONE_ANIMAL } from './forms/one-animal.js';
import { WHERE_THEY_ARE } from './forms/where-they-are.js';

/** Every form in the order of the day, group by group. */
export const ENTRY_GROUPS: readonly {
  readonly name: string;
  readonly forms: readonly EntryForm[];
}[] = [
  { name: 'Eggs and young', forms: EGGS_AND_YOUNG },
  { name: 'Where they are', forms: WHERE_THEY_ARE },
  { name: 'One animal', forms: ONE_ANIMAL },
  { name: 'Lots of young', forms: LOTS },
  { name: 'Coming and going', forms: COMING_AND_GOING },
];

const FORMS = ENTRY_GROUPS.flatMap(({ forms }) => forms);

export const entryForm = (id: string): EntryForm | undefined =>
  FORMS.find((form) => form.id === id);

/** The form of a kind that asks for most of what an entry says. */
export function formOfEntry(kind: string, said: readonly string[]): EntryForm | undefined {
  const asked = ({ fields, fixed }: EntryForm) =>
    said.filter((name) => fields.some((field) => field.name === name) || (fixed && name in fixed))
      .length;
  return FORMS.filter((form) => form.kind === kind).toSorted((a, b) => asked(b) - asked(a))[0];
}
