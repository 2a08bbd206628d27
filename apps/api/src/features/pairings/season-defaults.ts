import type { PairingSettings, SpeciesOverrides } from '@scutewright/commands';
import { INBREEDING_COSTS } from '@scutewright/planning';

/** What a season of a female is reckoned with. */
export interface SeasonFigures {
  readonly clutches: number;
  readonly eggsPerClutch: number;
  readonly fertility: number;
  readonly hatch: number;
  /** Per diploid. */
  readonly lethalEquivalents: number;
  /** Where each comes from, a sentence each. */
  readonly sources: string[];
}

interface Laying {
  readonly eggsPerClutch: number;
  readonly clutches: number;
  readonly source: string;
}

/** Means of the published counts; the number of clutches is ours within them. */
const LAYING: Readonly<Record<string, Laying>> = {
  'Testudo graeca': {
    eggsPerClutch: 3.5,
    clutches: 2,
    source:
      'mean clutch 3.5, 1 to 4 clutches, SW Spain: Diaz-Paniagua, Keller & Andreu 1996, Can. J. Zool. 74',
  },
  'Testudo hermanni': {
    eggsPerClutch: 4.3,
    clutches: 2,
    source:
      'mean clutch 4.3 (boettgeri), usually 1 to 2 clutches: Bertolero et al. 2011, Chelonian Res. Monogr. 5:059',
  },
  'Chelonoidis carbonarius': {
    eggsPerClutch: 3.4,
    clutches: 2,
    source:
      '3.4 eggs a nest: Gaviria-Hernandez et al. 2021, Chelonian Conserv. Biol. 20:71-81; clutches: common practice, no source',
  },
  'Astrochelys radiata': {
    eggsPerClutch: 2.5,
    clutches: 2,
    source:
      'wild clutch 2.5: Hammer 2015, J. Herpetol. 49:633; 0 to 3 clutches: Leuteritz & Ravolanaivo 2005, Afr. Zool. 40',
  },
};
const OTHERS: Laying = { eggsPerClutch: 5, clutches: 2, source: 'common practice, no source' };
/** Of eggs, and of fertile eggs; common practice, no source. */
const FERTILITY = 0.9;
const HATCH = 0.8;
const [COST] = INBREEDING_COSTS;

/** The figures for females of a species, where the settings name no others. */
export function seasonFigures(
  species: string,
  settings: PairingSettings,
  own: SpeciesOverrides | undefined,
): SeasonFigures {
  const laying = layingOf(species, own);
  const { clutches, eggsPerClutch, fertility, hatch, lethalEquivalents } = settings;
  const cost =
    lethalEquivalents === undefined
      ? COST
      : INBREEDING_COSTS.find((each) => each.lethalEquivalents === lethalEquivalents);
  return {
    clutches: clutches ?? laying.clutches,
    eggsPerClutch: eggsPerClutch ?? laying.eggsPerClutch,
    fertility: fertility ?? FERTILITY,
    hatch: hatch ?? HATCH,
    lethalEquivalents: lethalEquivalents ?? COST.lethalEquivalents,
    sources: [
      clutches !== undefined && eggsPerClutch !== undefined
        ? 'Eggs: as you set them.'
        : `Eggs of ${species}: ${laying.source}${(clutches ?? eggsPerClutch) ? '; partly as you set them' : ''}.`,
      fertility !== undefined && hatch !== undefined
        ? 'Fertile and hatching shares: as you set them.'
        : 'Fertile and hatching shares: common practice, no source. Your own hatch records are better.',
      cost
        ? `Cost of inbreeding: ${cost.source}; ${cost.measuredOn}.`
        : 'Cost of inbreeding: as you set it.',
    ],
  };
}

/** As shipped, with what the program sets of the species in its place. */
function layingOf(species: string, own: SpeciesOverrides | undefined): Laying {
  const shipped = LAYING[species] ?? OTHERS;
  const { EGGS_PER_CLUTCH: eggs, CLUTCHES_PER_SEASON: clutches } = own ?? {};
  if (!eggs && !clutches) return shipped;
  const reasons = [...new Set([eggs?.reason, clutches?.reason].filter(Boolean))].join('; ');
  return {
    eggsPerClutch: eggs?.numbers[0] ?? shipped.eggsPerClutch,
    clutches: clutches?.numbers[0] ?? shipped.clutches,
    source: `as you set them (${reasons})${eggs && clutches ? '' : `; the rest: ${shipped.source}`}`,
  };
}
