/** What a season of a female is reckoned with where the program sets nothing: means, with their source. */
export interface SeasonDefaults {
  readonly eggsPerClutch: number;
  readonly clutches: number;
  readonly source: string;
}

const BY_SPECIES: Readonly<Record<string, SeasonDefaults>> = {
  'Testudo graeca': {
    eggsPerClutch: 3.5,
    clutches: 2,
    source:
      'mean clutch 3.5, 1 to 4 clutches: Diaz-Paniagua, Keller & Andreu 1996, Can. J. Zool. 74',
  },
  'Testudo hermanni': {
    eggsPerClutch: 4.3,
    clutches: 2,
    source:
      'mean clutch 4.3 (boettgeri), 1 to 2 clutches: Bertolero et al. 2011, Chelonian Res. Monogr. 5:059',
  },
  'Chelonoidis carbonarius': {
    eggsPerClutch: 3.4,
    clutches: 2,
    source:
      '3.4 eggs a nest: Gaviria-Hernandez et al. 2021, Chelonian Conserv. Biol. 20:71-81; clutches: common practice, no source',
  },
};

const OTHERS: SeasonDefaults = {
  eggsPerClutch: 5,
  clutches: 2,
  source: 'common practice, no source',
};

export function seasonDefaults(species: string): SeasonDefaults {
  return BY_SPECIES[species] ?? OTHERS;
}

/** Of eggs; common practice, no source. */
export const FERTILITY = 0.9;
/** Of fertile eggs; common practice, no source. */
export const HATCH = 0.8;
