import { dayText } from '@scutewright/basics';
import { amongMates, forecastSize, growthRecord, type Measurement } from '@scutewright/housing';
import { NO_DAY, NONE, type Snapshot } from '../../snapshot/snapshot.js';
import type { Growth } from './season.types.js';

const YEAR = 365.25;

/** How an animal has grown and what size it may come to, from its own lengths and those of its clutch mates. */
export function growthOf(snapshot: Snapshot, animal: number): Growth {
  const own = lengthsOf(snapshot, animal);
  const clutch = snapshot.animals.clutch[animal];
  const mates: Measurement[][] = [];
  for (let i = 0; clutch !== NONE && i < snapshot.animals.count; i++) {
    if (i !== animal && snapshot.animals.clutch[i] === clutch) mates.push(lengthsOf(snapshot, i));
  }
  const record = growthRecord(own, mates);
  const code = snapshot.animals.codes[animal];
  const measurements = (snapshot.season.measurements.get(animal) ?? []).map(
    ({ kind, value, date, method }) => ({
      kind,
      value,
      date,
      method,
    }),
  );
  const assumptions = [
    'Against its own past and its clutch mates only: no published curve fits these species (Hailey & Lambert, Tropical Zoology).',
  ];
  const last = own.at(-1);
  const standing = last ? amongMates(last, mates) : null;
  const among =
    standing && standing.ratioToMedian !== null
      ? `${Math.round(standing.ratioToMedian * 100)} % of the middle of ${standing.mates} clutch ${standing.mates === 1 ? 'mate' : 'mates'}; ${standing.smaller} smaller.`
      : null;
  if ('reason' in record) {
    return {
      sentence: `${code}: ${record.reason}. ${record.detail}`,
      measurements,
      forecast: [],
      amongMates: among,
      assumptions,
    };
  }
  const forecast = [0.5, 1, 2, 3, 5].flatMap((years) => {
    const day = Math.round(record.last.day + years * YEAR);
    const size = forecastSize(record, day);
    return 'reason' in size ? [] : [{ on: dayText(day), ...size }];
  });
  return {
    sentence: `${code} grew about ${Math.round(record.ratePerYear)} mm a year lately; last ${record.last.mm} mm.`,
    measurements,
    forecast,
    amongMates: among,
    assumptions,
  };
}

function lengthsOf({ season }: Snapshot, animal: number): Measurement[] {
  return (season.measurements.get(animal) ?? []).flatMap(({ kind, value, day }) =>
    kind === 'scl' && day !== NO_DAY ? [{ day, mm: value }] : [],
  );
}
