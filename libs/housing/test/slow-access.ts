import { dayNumber, type PartialDate, parsePartialDate } from '@scutewright/basics';
import type { SireTimelineInput } from '@scutewright/housing';

/** The rules of access, day by day: every day of the window is asked on its own. */
export function slowCandidates(input: SireTimelineInput) {
  const [year, month, day] = input.laid.split('-').map(Number);
  const laid = dayNumber(year, month, day);
  const start = dayNumber(year - input.window_years, month, day);
  const possible = new Set<string>();
  const certain = new Set<string>();
  const direct = new Set<string>();
  let unknownMale = false;
  for (let d = start; d < laid; d++) {
    if (!isMature(input, input.dam, d, false)) continue;
    const hers = pensOn(input, input.dam, d, false);
    if (hers.length === 0) unknownMale = true;
    for (const stranger of input.strangers ?? []) {
      const isThere = isWithin(stranger.from, stranger.to, d, false);
      if (isThere && (!stranger.pen || hers.includes(stranger.pen))) unknownMale = true;
    }
    for (const { id, sex } of input.animals) {
      if (id === input.dam || sex === 'f' || !isMature(input, id, d, false)) continue;
      const his = pensOn(input, id, d, false);
      if (his.some((pen) => hers.includes(pen))) {
        possible.add(id);
        direct.add(id);
      }
      for (const contact of input.contacts ?? []) {
        const [p, q] = contact.pens!;
        const isOpen = isWithin(contact.from, contact.to, d, false);
        const meets = (a: string, b: string): boolean => his.includes(a) && hers.includes(b);
        if (isOpen && (meets(p, q) || meets(q, p))) possible.add(id);
      }
      const surely = pensOn(input, id, d, true).some((pen) =>
        pensOn(input, input.dam, d, true).includes(pen),
      );
      const grown = isMature(input, id, d, true) && isMature(input, input.dam, d, true);
      if (sex === 'm' && surely && grown) certain.add(id);
    }
  }
  const inOrder = (set: ReadonlySet<string>): string[] =>
    input.animals.map(({ id }) => id).filter((id) => set.has(id));
  return {
    possible: inOrder(possible),
    certainAccess: inOrder(certain),
    onlyViaContact: inOrder(possible).filter((id) => !direct.has(id)),
    unknownMale,
  };
}

/** First day of possible and of certain conflict and the day after the last, from `start` up to `horizon`, by asking every day. */
export function slowConflict(
  input: Pick<SireTimelineInput, 'animals' | 'stays'>,
  [a, b]: readonly [string, string],
  start: number,
  horizon: number,
) {
  const possible: number[] = [];
  const certain: number[] = [];
  for (let d = start; d < horizon; d++) {
    for (const [surely, days] of [
      [false, possible],
      [true, certain],
    ] as const) {
      const grown = [a, b].every((id) => isMature(input, id, d, surely));
      const shared = pensOn(input, a, d, surely).some((pen) =>
        pensOn(input, b, d, surely).includes(pen),
      );
      if (grown && shared) days.push(d);
    }
  }
  const end = possible.at(-1);
  return {
    possibleFrom: possible[0] ?? null,
    certainFrom: certain[0] ?? null,
    overOn: end === undefined || end + 1 === horizon ? null : end + 1,
  };
}

const parsed = new Map<string, PartialDate>();

/** The same few texts are asked on every day. */
function dateOf(text: string): PartialDate {
  const known = parsed.get(text) ?? parsePartialDate(text)!;
  parsed.set(text, known);
  return known;
}

function isWithin(from: string | null, to: string | null, day: number, surely: boolean): boolean {
  const start = from === null ? null : dateOf(from);
  const end = to === null ? null : dateOf(to);
  const hasBegun = !start || (surely ? start.latest : start.earliest) <= day;
  return hasBegun && (!end || day < (surely ? end.earliest : end.latest));
}

function pensOn(
  input: Pick<SireTimelineInput, 'stays'>,
  animal: string,
  day: number,
  surely: boolean,
): string[] {
  return input.stays
    .filter((stay) => stay.animal === animal && isWithin(stay.from, stay.to, day, surely))
    .map((stay) => stay.pen);
}

function isMature(
  input: Pick<SireTimelineInput, 'animals'>,
  id: string,
  day: number,
  surely: boolean,
): boolean {
  const from = input.animals.find((animal) => animal.id === id)!.mature_from;
  if (!from) return !surely;
  const [first, last] = typeof from === 'string' ? [from, from] : from;
  return surely ? dateOf(last).latest <= day : dateOf(first).earliest <= day;
}
