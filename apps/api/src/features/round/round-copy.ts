import { dayText } from '@scutewright/basics';
import { staysOn } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { mayHold } from '../../snapshot/stay-days.js';
import { nextCode } from '../animals/search-animals.js';
import { clutchSheet, youngByClutch } from '../season/clutch-sheet.js';
import { RoundAnimal, type RoundAway, type RoundClutch, type RoundCopy } from './round.types.js';

/** Clutches laid longer ago than this, in days, have nothing left to write down in the yard. */
const CLUTCH_DAYS = 730;

/** The yard on a day, small enough to be kept on a phone. */
export function roundCopy(
  snapshot: Snapshot,
  day: number,
  /** Id of its latest photograph by animal id. */
  photos: ReadonlyMap<string, string>,
): RoundCopy {
  const { animals, season, pens } = snapshot;
  const penOf = new Map(staysOn(snapshot, day).map(({ animal, pen }) => [animal, pen]));
  const lotPen = new Map(
    season.lotStays.filter((stay) => mayHold(stay.days, day)).map(({ lot, pen }) => [lot, pen]),
  );
  const idOf = (pen: number | undefined) => (pen === undefined ? null : pens[pen].id);
  const here: RoundAnimal[] = [];
  const bySpecies = new Map<string, number>();
  for (let i = 0; i < animals.count; i++) {
    if (season.gone.has(i) || animals.origins[i] === 'ANCESTOR_ONLY') continue;
    bySpecies.set(animals.species[i], (bySpecies.get(animals.species[i]) ?? 0) + 1);
    here.push(new RoundAnimal(snapshot, i, penOf.get(i), photos.get(animals.ids[i])));
  }
  return {
    programId: snapshot.programId,
    programName: snapshot.programName,
    revision: snapshot.revision,
    day: dayText(day),
    animals: here,
    pens: pens.map(({ id, name, isQuarantine }) => ({ id, name, isQuarantine })),
    lots: season.lots.flatMap(({ id, code, count }, lot) =>
      count > 0 ? [{ id, code, count, penId: idOf(lotPen.get(lot)) }] : [],
    ),
    clutches: clutchesSince(snapshot, day - CLUTCH_DAYS),
    away: awayOf(snapshot),
    traits: snapshot.traits.map(({ name }) => name),
    species: [...bySpecies].sort((a, b) => b[1] - a[1]).map(([name]) => name),
    nextCode: nextCode(snapshot),
  };
}

/** Those that may come back: escaped, or lent. */
function awayOf({ animals, season }: Snapshot): RoundAway[] {
  return [...season.gone].flatMap(([i, { how, words, date }]) =>
    how === 'escaped' || words === 'lent out'
      ? [
          {
            id: animals.ids[i],
            code: animals.codes[i],
            name: animals.names[i],
            words,
            since: date,
            isEscaped: how === 'escaped',
          },
        ]
      : [],
  );
}

function clutchesSince(snapshot: Snapshot, since: number): RoundClutch[] {
  const { clutches } = snapshot;
  const young = youngByClutch(snapshot);
  return Array.from({ length: clutches.count }, (_, c) => c)
    .filter((c) => clutches.codes[c] !== null && clutches.laidLatest[c] >= since)
    .sort((a, b) => clutches.laidLatest[b] - clutches.laidLatest[a])
    .map((c) => {
      const { laid, eggs, open, batches, dam } = clutchSheet(snapshot, c, young);
      return {
        id: clutches.ids[c],
        code: clutches.codes[c] ?? '',
        laid,
        mothers: dam.candidates.map(({ animal }) => animal.code),
        eggs,
        open,
        boxes: batches.map(({ label, eggs: set, celsius }) => ({
          label,
          eggs: set,
          celsius: celsius.at(-1) ?? null,
        })),
      };
    });
}
