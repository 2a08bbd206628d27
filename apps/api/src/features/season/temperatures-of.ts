import type { SpeciesOverrides } from '@scutewright/commands';
import {
  SPECIES_TEMPERATURES,
  type SpeciesTemperatures,
  withoutSubspecies,
} from '@scutewright/housing';

const NOTHING: SpeciesTemperatures = {
  sex: null,
  days: [],
  daysSource: null,
  dayRange: null,
  danger: null,
};

/** What is published of a species' (or, for a subspecies, its species') eggs and temperature, with what the program sets in its place. */
export function temperaturesOf(
  species: string,
  own: SpeciesOverrides | undefined,
): SpeciesTemperatures {
  const shipped = SPECIES_TEMPERATURES.get(withoutSubspecies(species)) ?? NOTHING;
  const { PIVOTAL_CELSIUS: pivotal, INCUBATION_DAYS: days } = own ?? {};
  const sex = shipped.sex && {
    ...shipped.sex,
    ...(pivotal && {
      pivotal: pivotal.numbers[0],
      source: `even sexes at ${pivotal.numbers[0]} C as you set it (${pivotal.reason}); how steep: ${shipped.sex.source}`,
    }),
  };
  if (!days) return { ...shipped, sex };
  const [fewest, most] = days.numbers;
  const source = `${fewest} to ${most} days as you set them (${days.reason})`;
  return { ...shipped, sex, days: [], daysSource: null, dayRange: { fewest, most, source } };
}
