import type { IncubationRecord } from './incubation.js';
import type { SexCurve } from './sex-by-temperature.js';

/** What is published of a species' eggs and temperature; constant incubation, degrees C at the egg. */
export interface SpeciesTemperatures {
  /** Null where no curve is published, or the data contradict each other: then no odds of sex are given. */
  readonly sex: (SexCurve & { readonly source: string; readonly caution: string }) | null;
  readonly days: readonly IncubationRecord[];
  readonly daysSource: string | null;
  /** Fewest and most days ever recorded, where embryos pause and no line holds; null otherwise. */
  readonly dayRange: {
    readonly fewest: number;
    readonly most: number;
    readonly source: string;
  } | null;
  /** Temperatures known to kill or to hatch badly, in words, with their source; null where none is published. */
  readonly danger: string | null;
}

const CAUTION =
  'Laboratories differ by 0.5 to 1 C on one species; a mean is not enough where temperature swings.';
const LIGON = 'Ligon, Bidwell & Lovern 2009, Can. J. Zool. 87:64-72';
const EENDEBAK = 'Eendebak 2001, T. h. boettgeri';
const GAVIRIA = 'Gaviria-Hernandez et al. 2021, Chelonian Conserv. Biol. 20:71-81';
const HERNANDEZ = 'Hernandez-Montoya et al. 2017, Chelonian Conserv. Biol. 16:164-171';

/** By scientific name. Records read in a published database of reptile incubation and sex (Krueger & Janzen 2022). */
export const SPECIES_TEMPERATURES: ReadonlyMap<string, SpeciesTemperatures> = new Map([
  [
    'Centrochelys sulcata',
    {
      sex: {
        pivotal: 30.8,
        scale: 0.24,
        source: `Logistic fit to ${LIGON}, n = 82`,
        caution: CAUTION,
      },
      days: [
        { celsius: 28.5, days: 111 },
        { celsius: 29.5, days: 96 },
        { celsius: 30.5, days: 89 },
        { celsius: 31.5, days: 84 },
        { celsius: 32.5, days: 79 },
      ],
      daysSource: LIGON,
      dayRange: null,
      danger: null,
    },
  ],
  [
    'Testudo hermanni',
    {
      sex: {
        pivotal: 31.6,
        scale: 0.28,
        source: `Logistic fit to ${EENDEBAK}, n = 106`,
        caution: `T. h. boettgeri only. ${CAUTION}`,
      },
      // Flat above 30 C: only the falling part is given, so that no line is drawn through the rest.
      days: [
        { celsius: 24, days: 88 },
        { celsius: 25, days: 82 },
        { celsius: 26, days: 83 },
        { celsius: 27, days: 72 },
        { celsius: 28, days: 66 },
        { celsius: 30, days: 58 },
      ],
      daysSource: EENDEBAK,
      dayRange: {
        fewest: 55,
        most: 88,
        source: `${EENDEBAK}: 88 days at 24 C, 55 at 32 and 34 C; flat above 30 C, so no nearer day is told there`,
      },
      danger: `34 C hatched 18 of 42, 35 C none of 3, 24 C 4 of 12 (${EENDEBAK})`,
    },
  ],
  [
    'Chelonoidis carbonarius',
    {
      sex: {
        pivotal: 26.05,
        scale: 0.58,
        source: `${GAVIRIA}: 26.05 (25.31-26.69), 5-95 % males 27.77-24.34`,
        caution: `26 young of Colombian stock. ${CAUTION}`,
      },
      days: [
        { celsius: 24, days: 213 },
        { celsius: 26, days: 164 },
        { celsius: 28, days: 138 },
        { celsius: 28.8, days: 131 },
      ],
      daysSource: `${GAVIRIA}; ${HERNANDEZ}`,
      dayRange: null,
      danger: `31 C hatched 5 of 47, 32.8 C none of 49 (${HERNANDEZ})`,
    },
  ],
  [
    'Testudo graeca',
    {
      // Pieau's stock turned between 30 and 31 C, another form far more gradually: no curve is shipped.
      sex: null,
      days: [],
      daysSource: null,
      dayRange: null,
      danger: null,
    },
  ],
  [
    'Astrochelys radiata',
    {
      sex: null,
      days: [],
      daysSource: null,
      dayRange: {
        fewest: 90,
        most: 342,
        source:
          'Kuchling, Goode & Praschag 2013, Chelonian Research Monographs 6:113-118 (constant warmth, from 90); Hammer 2015, J. Herpetol. 49:633 (captive in range 132-271); Leuteritz & Ravolanaivo 2005, Afr. Zool. 40 (nests 263-342)',
      },
      danger: null,
    },
  ],
]);
