import { dayText } from '@scutewright/basics';
import { staysOn } from '../../snapshot/findings.js';
import { NO_DAY, type Snapshot } from '../../snapshot/snapshot.js';
import { mayHold } from '../../snapshot/stay-days.js';
import { Animal } from '../animals/animal.types.js';
import type { Lot, YardDay, YardPen } from './yard.types.js';

/** Who is where on a day, past or planned: what the stays say, pen by pen. */
export function yardOnDay(snapshot: Snapshot, day: number): YardDay {
  const { animals, season } = snapshot;
  const stays = staysOn(snapshot, day);
  const lotPens = new Map(
    season.lotStays.filter((stay) => mayHold(stay.days, day)).map(({ lot, pen }) => [lot, pen]),
  );
  const pens = snapshot.pens.map(
    (
      { id, name, areaM2, isQuarantine, capacity, features, corners, sharesFenceWith },
      at,
    ): YardPen => ({
      id,
      name,
      areaM2,
      isQuarantine,
      capacity,
      features: [...features],
      corners: [...corners],
      sharesFenceWith: [...sharesFenceWith],
      occupants: stays
        .filter((stay) => stay.pen === at)
        .map((stay) => ({
          stayId: stay.id,
          animal: new Animal(snapshot, stay.animal),
          since: stay.from,
          until: stay.to,
        }))
        .sort((a, b) => (a.animal.code < b.animal.code ? -1 : 1)),
      lots: lotsOf(snapshot, lotPens).filter(
        (_, lot) => lotPens.get(lot) === at && season.lots[lot].count > 0,
      ),
    }),
  );
  const housed = new Set(stays.map(({ animal }) => animal));
  const unplaced: Animal[] = [];
  for (let i = 0; i < animals.count; i++) {
    const gone = season.gone.get(i);
    const isHere = !gone || gone.day > day;
    const hatched = animals.hatchedEarliest[i];
    if (
      !housed.has(i) &&
      isHere &&
      animals.origins[i] !== 'ANCESTOR_ONLY' &&
      (hatched === NO_DAY || hatched <= day)
    ) {
      unplaced.push(new Animal(snapshot, i));
    }
  }
  const inPens = stays.length === 1 ? '1 animal is' : `${stays.length} animals are`;
  return {
    day: dayText(day),
    sentence: `${inPens} in ${pens.filter(({ occupants }) => occupants.length > 0).length} of ${pens.length} pens${unplaced.length > 0 ? `; ${unplaced.length} in none` : ''}.`,
    pens,
    unplacedCount: unplaced.length,
    unplaced,
    unplacedLots: lotsOf(snapshot, lotPens).filter(
      (_, lot) => !lotPens.has(lot) && season.lots[lot].count > 0,
    ),
  };
}

/** The lots in the order of the snapshot. */
export function lotsOf(snapshot: Snapshot, pens: ReadonlyMap<number, number>): Lot[] {
  const { season, clutches } = snapshot;
  return season.lots.map(({ id, code, species, count, clutches: of }, lot) => ({
    id,
    code,
    species,
    count,
    clutches: [...of.keys()].map((clutch) => clutches.codes[clutch] ?? 'a clutch without a code'),
    pen: pens.has(lot) ? snapshot.pens[pens.get(lot)!].name : null,
  }));
}
