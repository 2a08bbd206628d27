import type { Caution } from '../pairings/pairings.types.js';

/** What the cautions look at, of each of ours that goes. */
export interface SaleFacts {
  readonly code: string;
  readonly species: string;
  /** Latest straight carapace length and mass, as measured; null where never. */
  readonly scl: { readonly mm: number; readonly date: string | null } | null;
  readonly mass: { readonly g: number; readonly date: string | null } | null;
}

/** When the rules below were last read by us. Laws change: the page says so beside each. */
const READ = 'Read November 2026; check it again before you act. Local codes prevail.';
/** 4 inches, 21 CFR 1240.62. */
const FOUR_INCHES_MM = 102;
const TRANSPONDER_G = 500;
const TICK_HOSTS = ['Stigmochelys pardalis', 'Centrochelys sulcata', 'Kinixys belliana'];

/** Adult sizes that were read in a paper. */
const ADULT_SIZE: Readonly<Record<string, { readonly words: string; readonly source: string }>> = {
  'Centrochelys sulcata': {
    words: 'wild females 336 to 578 mm, males 384 to 797 mm and up to 93 kg',
    source: 'Lambert 1993, Chelonian Conserv. Biol. 1',
  },
  'Testudo hermanni': {
    words: 'adults 130 to 180 mm',
    source: 'Bertolero et al. 2011, Chelonian Res. Monogr. 5:059',
  },
  'Testudo graeca': {
    words:
      'adults of one Spanish population 146 mm (males) and 173 mm (females) on average, of another 113 and 134 mm: populations differ strongly',
    source: 'Diaz-Paniagua & Andreu 2009, Enciclopedia Virtual de los Vertebrados Espanoles',
  },
};

/**
 * The usual cautions when a tortoise changes hands, the law by jurisdiction and date. They decide nothing: local
 * codes, permits and licensed practice prevail. What was only read second-hand is not stated as a rule.
 */
export function saleCautions(animals: readonly SaleFacts[]): Caution[] {
  return [
    papers(),
    ...americanSize(animals),
    ...tickHosts(animals),
    ...germanMarks(animals),
    {
      lead: 'Hands and kitchen.',
      text: 'Reptiles can carry Salmonella without being ill. Wash hands after touching them, keep them out of kitchens, and away from small children and the frail.',
      source: 'Usual public-health advice; a doctor or a veterinarian knows better.',
      isHarm: true,
    },
    {
      lead: 'Health.',
      text: 'Let a veterinarian see the animal before it goes, and let the buyer keep it apart from their own until a veterinarian says otherwise: carriers of herpesvirus and mycoplasma look healthy.',
      source:
        'Peer Community J. 2, 2022, e5 (572 tortoises in France); zoos keep newcomers apart for 30 days at least (aza.org/quarantine).',
      isHarm: true,
    },
    grows(animals),
    {
      lead: 'Never set free.',
      text: 'An animal that is not wanted any more comes back or goes to a shelter; it is not released. Say that you take it back, if you do.',
      source: 'Common practice, no source; releasing is against the law in many places.',
      isHarm: true,
    },
  ];
}

function papers(): Caution {
  return {
    lead: 'Papers first.',
    text: 'Trade in tortoises is controlled in many countries, and the rules differ by species and place. Ask your permit office, and let the buyer ask theirs, which certificate, permit, mark or notification each animal needs before it is sold or moved.',
    source: 'General caution: no rule is quoted here. Your authority decides.',
    isHarm: true,
  };
}

function americanSize(animals: readonly SaleFacts[]): Caution[] {
  const small = animals.flatMap(({ code, scl }) =>
    scl && scl.mm < FOUR_INCHES_MM ? [`${code} (${Math.round(scl.mm)} mm${on(scl.date)})`] : [],
  );
  const unmeasured = animals.filter(({ scl }) => scl === null).map(({ code }) => code);
  if (small.length === 0 && unmeasured.length === 0) return [];
  return [
    {
      lead: 'United States: under 4 inches.',
      text: [
        'Live turtles, tortoises among them, with a shell under 4 inches (102 mm), and viable eggs, may not be sold, held for sale or otherwise distributed commercially or publicly, with exceptions.',
        small.length > 0 ? `Under it: ${small.join(', ')}.` : '',
        unmeasured.length > 0 ? `Never measured: ${unmeasured.join(', ')}; measure first.` : '',
        'Which exception you rely on is for you and your adviser to say, and to write down.',
      ]
        .filter(Boolean)
        .join(' '),
      source: `21 CFR 1240.62, by its text of 1996. ${READ}`,
      isHarm: true,
      jurisdiction: 'United States',
    },
  ];
}

function tickHosts(animals: readonly SaleFacts[]): Caution[] {
  const hosts = animals.filter(({ species }) => TICK_HOSTS.includes(species));
  if (hosts.length === 0) return [];
  return [
    {
      lead: 'United States: across a state line.',
      text: `Leopard, African spurred and Bell's hingeback tortoises may cross a state line only with a health certificate or certificate of veterinary inspection, signed by an accredited veterinarian within 30 days before, that says they were examined and are free of ticks: ${codes(hosts)}.`,
      source: `9 CFR 74.1, text current to 5 April 2026. ${READ}`,
      isHarm: true,
      jurisdiction: 'United States',
    },
  ];
}

function germanMarks(animals: readonly SaleFacts[]): Caution[] {
  const light = animals.flatMap(({ code, mass }) =>
    mass && mass.g < TRANSPONDER_G ? [`${code} (${Math.round(mass.g)} g${on(mass.date)})`] : [],
  );
  return [
    {
      lead: 'Germany: notify and mark.',
      text: `Stock of protected reptiles is notified to the authority and marked by transponder or by a repeated photo record with size, mass, sex, age and special features; tortoises under 500 g get no transponder.${light.length > 0 ? ` Under it: ${light.join(', ')}.` : ''} Which species and which duty: ask the authority.`,
      source: `BArtSchV, par. 7(2), 12 and 13. ${READ}`,
      isHarm: true,
      jurisdiction: 'Germany',
    },
  ];
}

function grows(animals: readonly SaleFacts[]): Caution {
  const sizes = [...new Set(animals.map(({ species }) => species))].flatMap((species) => {
    const size = ADULT_SIZE[species];
    return size ? [{ said: `${species}: ${size.words}`, source: size.source }] : [];
  });
  const said = sizes.length > 0 ? ` (${sizes.map((each) => each.said).join('; ')})` : '';
  return {
    lead: 'It grows, lives long and may fight.',
    text: `Tell the buyer the adult size${said}, that it may outlive them, and that grown males ram and wound each other and harry females: two males do not share a pen.`,
    source: [
      ...new Set(sizes.map((each) => each.source)),
      'Wounds of females: Golubovic et al. 2018, Biol. J. Linn. Soc.; males together: common practice, no source.',
    ].join('; '),
    isHarm: false,
  };
}

/** The same for the buyer, on the sheet that goes with the animal. */
export function careLines(species: string): string[] {
  const size = ADULT_SIZE[species];
  return [
    size
      ? `It will grow (${species}: ${size.words}; ${size.source}) and may outlive you.`
      : 'It will grow and may outlive you; ask the seller for the adult size.',
    'Grown males ram and wound each other and harry females: two males do not share a pen.',
    'Keep it apart from your own tortoises until a veterinarian says otherwise.',
    'Reptiles can carry Salmonella without being ill: wash hands after touching it, keep it out of kitchens and away from small children and the frail.',
    'Never set it free. Your own authority tells you which permit, certificate or notification you need.',
  ];
}

const on = (date: string | null) => (date ? `, ${date}` : '');
const codes = (animals: readonly SaleFacts[]) => animals.map(({ code }) => code).join(', ');
