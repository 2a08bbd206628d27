import { SPECIES_TEMPERATURES } from './species-temperatures.js';

/**
 * How far a fact was confirmed. `READ`: the paper's abstract, the regulation or the records were read. `COMPUTED`: computed by us
 * from records that were read. `PRACTICE`: common practice, no source. `NONE`: nothing is shipped.
 */
export type Confidence = 'READ' | 'COMPUTED' | 'PRACTICE' | 'NONE';

/** What a program may set of a species, because something is reckoned with it; `numbers` is how many figures it has. */
export const SETTABLE_FACTS = {
  EGGS_PER_CLUTCH: { numbers: 1, least: 0.1, most: 100, usedFor: 'pairings: eggs of a season' },
  CLUTCHES_PER_SEASON: { numbers: 1, least: 0.1, most: 20, usedFor: 'pairings: eggs of a season' },
  MATURE_YEARS: {
    numbers: 2,
    least: 0,
    most: 60,
    usedFor: 'pens and possible fathers: may be, and surely is, mature',
  },
  PIVOTAL_CELSIUS: { numbers: 1, least: 15, most: 40, usedFor: 'clutches: outlook on the sexes' },
  INCUBATION_DAYS: { numbers: 2, least: 20, most: 700, usedFor: 'clutches: hatch window' },
  STORAGE_YEARS: { numbers: 1, least: 0, most: 15, usedFor: 'clutches: possible fathers' },
} as const;
export type SettableFact = keyof typeof SETTABLE_FACTS;

export interface SpeciesFact {
  /** A `SettableFact`, or a name of its own for what nothing is reckoned with. */
  readonly key: string;
  readonly name: string;
  /** In words, with the unit. */
  readonly value: string;
  readonly source: string | null;
  readonly confidence: Confidence;
  readonly note?: string;
}

const PRACTICE = { source: null, confidence: 'PRACTICE' } as const;
const DIAZ = 'Diaz-Paniagua, Keller & Andreu 1996, Can. J. Zool. 74';
const BERTOLERO = 'Bertolero et al. 2011, Chelonian Res. Monogr. 5:059';
const LEUTERITZ = 'Leuteritz & Ravolanaivo 2005, Afr. Zool. 40';
const US_SMALL: SpeciesFact = {
  key: 'law-us-size',
  name: 'Law, United States',
  value: 'Sale of eggs and of animals under 4 inches (102 mm) of shell is restricted',
  source: '21 CFR 1240.62 (a) (b)',
  confidence: 'READ',
  note: 'A dated reminder, not advice; its exceptions were not read. Local codes and permits prevail.',
};
const US_IMPORT: SpeciesFact = {
  key: 'law-us-move',
  name: 'Law, United States',
  value:
    'Moving it to another state needs a certificate of an accredited veterinarian within 30 days, free of ticks; import is prohibited',
  source: '9 CFR 74.1, text current to 2026-04-05; USDA rules of 2000 and 2001 (summaries)',
  confidence: 'READ',
  note: 'A dated reminder, not advice. Local codes and permits prevail.',
};
const EU_ANNEX: SpeciesFact = {
  key: 'law-eu',
  name: 'Law, European Union',
  value: 'Annex A: a certificate before commercial use, and a chip or another mark',
  source: 'Regulation (EC) 865/2006, Art. 66 (3) (4), as adopted',
  confidence: 'READ',
  note: 'A dated reminder, not advice; the listing was read second-hand. Local codes and permits prevail.',
};
const GERMANY: SpeciesFact = {
  key: 'law-de',
  name: 'Law, Germany',
  value:
    'Notify; no transponder under 500 g, then a photo record: half-yearly in the first year, yearly to the tenth, then every five years',
  source: 'BArtSchV, sections 7, 12, 13; leaflet of an authority',
  confidence: 'READ',
  note: 'A dated reminder, not advice. Local codes and permits prevail.',
};
const STORAGE: SpeciesFact = {
  key: 'STORAGE_YEARS',
  name: 'Years a female may store sperm',
  value:
    '3 supported, 4 the cautious setting. Until you set your own here, what is set for the whole program with its season counts',
  source:
    'Pearse, Janzen & Avise 2001, Heredity (painted turtle, 3 years); Ewing 1943 (box turtle, 4 years, from memory)',
  confidence: 'READ',
  note: 'Measured in other turtles, not in this species.',
};
const MATURITY: SpeciesFact = {
  key: 'MATURE_YEARS',
  name: 'Mature, by age',
  value: 'From 5 years perhaps, from 12 years surely',
  ...PRACTICE,
  note: 'Growth decides, and captive animals differ widely: set your own.',
};

const fact = (
  key: string,
  name: string,
  value: string,
  source: string,
  note?: string,
): SpeciesFact => ({ key, name, value, source, confidence: 'READ', ...(note && { note }) });

const OWN: Readonly<Record<string, readonly SpeciesFact[]>> = {
  'Centrochelys sulcata': [
    fact(
      'adult-length',
      'Adult shell length',
      'Females 336 to 578 mm, males 384 to 797 mm',
      'Lambert 1993, Chelonian Conserv. Biol. 1, wild, Mali',
    ),
    fact('adult-mass', 'Adult mass', 'Females 6.1 to 47 kg, males 11.8 to 93 kg', 'Lambert 1993'),
    US_IMPORT,
    US_SMALL,
  ],
  'Stigmochelys pardalis': [
    fact(
      'INCUBATION_DAYS',
      'Incubation',
      '118 to 161 days at 29.4 C, 135 to 202 days at 30 C in dry air',
      'Freid 1985 (six groups); Coakley & Klemens 1983, Herp. Review 14:43-44',
      'What is published of temperature and sex contradicts itself: no odds of sex are given.',
    ),
    fact('hatch', 'Hatched of incubated', '45 to 100 of 100', 'Freid 1985, six groups, 29.4 C'),
    US_IMPORT,
    US_SMALL,
  ],
  'Testudo hermanni': [
    fact(
      'EGGS_PER_CLUTCH',
      'Eggs a clutch',
      'Mean 4.3, at most 9 (boettgeri); mean 3.3, at most 7 (hermanni)',
      BERTOLERO,
    ),
    fact('CLUTCHES_PER_SEASON', 'Clutches a season', '1 to 2 usual, at most 3', BERTOLERO),
    fact('interval', 'Between clutches', '10 to 20 days', 'Swingland & Stubbs 1985, J. Zool.'),
    fact(
      'female-length',
      'Female mature, by length',
      'Mean 150 mm SCL',
      'Hailey & Loumbourdis 1990, Herp. J. 1:425-434, northern Greece',
    ),
    fact('adult-length', 'Adult shell length', '130 to 180 mm, females larger', BERTOLERO),
    fact(
      'sexing',
      'Sexed from outside',
      'From about 100 mm or 3 to 4 years, by two characters that agree (boettgeri)',
      'Page of a Dutch centre for the study of tortoises (Eendebak)',
    ),
    fact(
      'injuries',
      'Females hurt by males',
      '25 of 100 where the sexes are even, 75 of 100 where males are many',
      'Golubovic et al. 2018, Biol. J. Linn. Soc. (cloacal wounds)',
    ),
    EU_ANNEX,
    GERMANY,
    US_SMALL,
  ],
  'Testudo graeca': [
    fact(
      'even-sexes',
      'Even sexes at',
      'Between 30 and 31 C',
      'Pieau 1971, 1972, C. R. Acad. Sci. Paris D 272:3071, 274:719: 30 C 22 males 1 female, 31 C 0 and 20',
      'Other forms turn far more gradually: no curve is shipped.',
    ),
    fact('EGGS_PER_CLUTCH', 'Eggs a clutch', 'Mean 3.5, 1 to 7', `${DIAZ}, SW Spain`),
    fact('CLUTCHES_PER_SEASON', 'Clutches a season', '1 to 4', DIAZ),
    fact('interval', 'Between clutches', '21 to 29 days', DIAZ),
    fact(
      'season',
      'Season',
      'Laying early April to end of June, hatching August and September',
      'Diaz-Paniagua & Andreu 2009, Enciclopedia Virtual de los Vertebrados Espanoles, SW Spain',
    ),
    fact(
      'adult-length',
      'Adult shell length',
      'Means: males 146, females 173 mm (Donana); 113 and 134 mm (SE Spain)',
      'Diaz-Paniagua & Andreu 2009',
      'The forms differ much: no one figure is right for the species.',
    ),
    fact(
      'multiple-paternity',
      'Clutches of several fathers',
      '20 of 100; the authors call it an underestimate',
      'Roques, Diaz-Paniagua & Andreu 2004, Can. J. Zool. 82:153-159, 15 clutches',
    ),
    EU_ANNEX,
    GERMANY,
    US_SMALL,
  ],
  'Chelonoidis carbonarius': [
    {
      ...fact(
        'EGGS_PER_CLUTCH',
        'Eggs a nest',
        'Mean 3.4',
        '160 eggs of 47 nests in Gaviria-Hernandez et al. 2021, Chelonian Conserv. Biol. 20:71-81',
      ),
      confidence: 'COMPUTED',
    },
    US_SMALL,
  ],
  'Astrochelys radiata': [
    fact(
      'EGGS_PER_CLUTCH',
      'Eggs a clutch',
      'Wild 1 to 5, mean 2.5; captive in its range 3.4',
      `${LEUTERITZ}; Hammer 2015, J. Herpetol. 49:633`,
    ),
    fact('CLUTCHES_PER_SEASON', 'Clutches a season', '0 to 3', LEUTERITZ),
    fact(
      'season',
      'Season, southern Madagascar',
      'Mating peaks in December, nesting from January, hatching December and January',
      `${LEUTERITZ}; Hammer 2015`,
    ),
    US_SMALL,
  ],
};

/** Names of what may be set where nothing is shipped of a species; without a published curve one temperature says nothing of the others. */
const MAY_BE_MISSING = {
  EGGS_PER_CLUTCH: 'Eggs a clutch',
  CLUTCHES_PER_SEASON: 'Clutches a season',
  INCUBATION_DAYS: 'Incubation',
} satisfies Partial<Record<SettableFact, string>>;

/** What is published of a species stands for its subspecies too: the name without the third word. */
export function withoutSubspecies(species: string): string {
  return species.trim().split(/\s+/, 2).join(' ');
}

/** Whether facts of a species (or of that of a subspecies) are shipped. */
export function isShippedSpecies(species: string): boolean {
  return Object.hasOwn(OWN, withoutSubspecies(species));
}

/**
 * What is shipped of a species, each fact with its source and how far it was confirmed; what may be set stands in the list also where
 * nothing is known of it (`value` then says so). Facts that only second-hand pages give are left out.
 */
export function speciesFacts(species: string): readonly SpeciesFact[] {
  const published = withoutSubspecies(species);
  const own = isShippedSpecies(species) ? OWN[published] : [];
  const listed = [MATURITY, STORAGE, ...temperatureFacts(published), ...own];
  const missing = Object.entries(MAY_BE_MISSING)
    .filter(([key]) => !listed.some((each) => each.key === key))
    .map(
      ([key, name]): SpeciesFact => ({
        key,
        name,
        value: 'Nothing is shipped',
        source: null,
        confidence: 'NONE',
      }),
    );
  return [...listed, ...missing];
}

function temperatureFacts(species: string): SpeciesFact[] {
  const known = SPECIES_TEMPERATURES.get(species);
  if (!known) return [];
  const { sex, days, daysSource, dayRange, danger } = known;
  const facts: SpeciesFact[] = [];
  if (sex) {
    facts.push({
      key: 'PIVOTAL_CELSIUS',
      name: 'Even sexes at',
      value: `${sex.pivotal} C: cooler gives males, warmer females`,
      source: sex.source,
      confidence: sex.source.startsWith('Logistic fit') ? 'COMPUTED' : 'READ',
      note: sex.caution,
    });
  }
  if (days.length > 0) {
    const list = days.map(({ celsius, days: mean }) => `${celsius} C ${mean}`).join(', ');
    facts.push(fact('INCUBATION_DAYS', 'Incubation, mean days', list, daysSource ?? ''));
  }
  if (dayRange) {
    facts.push(
      fact(
        'INCUBATION_DAYS',
        'Incubation',
        `${dayRange.fewest} to ${dayRange.most} days`,
        dayRange.source,
        'Embryos pause: eggs of one clutch may hatch far apart.',
      ),
    );
  }
  if (danger) facts.push(fact('danger', 'Known to harm eggs', danger, 'named in it'));
  return facts;
}
