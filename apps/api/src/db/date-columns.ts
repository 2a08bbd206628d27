import { type PartialDate, parsePartialDate } from '@scutewright/basics';

const DAY_MS = 86_400_000;

/**
 * The three columns of a partial date in a row (`laid`, `laidEarliest`, `laidLatest` ...): the text as written, its first and its last
 * day. Null: no date.
 */
export function dateColumns<Name extends string>(name: Name, written: PartialDate | string | null) {
  const date = typeof written === 'string' ? parsePartialDate(written) : written;
  return {
    [name]: date?.text ?? null,
    [`${name}Earliest`]: date && new Date(date.earliest * DAY_MS),
    [`${name}Latest`]: date && new Date(date.latest * DAY_MS),
  } as Record<Name, string | null> & Record<`${Name}Earliest` | `${Name}Latest`, Date | null>;
}
