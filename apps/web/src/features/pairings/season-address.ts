/** What pairings are weighed by, as the address holds it: absent where the shipped figure stands. */
export const SETTING_KEYS = ['clutches', 'eggs', 'fertile', 'hatch', 'cost'] as const;
export type SettingKey = (typeof SETTING_KEYS)[number];

/** The settings of an address in the API's words; what is no number is left out. */
export function settingsOf(params: URLSearchParams) {
  const number = (key: string) => {
    const text = params.get(key);
    const value = Number(text);
    return text === null || text === '' || !Number.isFinite(value) ? null : value;
  };
  return {
    clutches: number('clutches'),
    eggsPerClutch: number('eggs'),
    fertility: number('fertile'),
    hatch: number('hatch'),
    lethalEquivalents: number('cost'),
    highestF: number('f'),
    penId: params.get('pen'),
    onlyKnownKin: params.get('known') === '1' ? true : null,
  };
}

/** Mates shown of one animal. */
const MATES = 20;

/** What the page of one animal's mates asks. */
export const matesVariables = (programId: string, animalId: string, params: URLSearchParams) => ({
  programId,
  animalId,
  traitId: params.get('trait'),
  first: MATES,
  settings: settingsOf(params),
});

/** The address with one setting changed; null takes it out. */
export function withSetting(
  params: URLSearchParams,
  key: string,
  value: string | null,
): URLSearchParams {
  const next = new URLSearchParams(params);
  if (value === null || value === '') next.delete(key);
  else next.set(key, value);
  return next;
}
