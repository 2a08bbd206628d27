import { dayText, parsePartialDate } from '@scutewright/basics';
import type { SpeciesOverrides } from '@scutewright/commands';
import { fitRateLine, hatchWindow, shareOfMales, wideHatchWindow } from '@scutewright/housing';
import { candidatesOfClutch, storageYears } from '../../snapshot/findings.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import {
  type BatchRow,
  type CandidateColumns,
  NO_DAY,
  NONE,
  type Snapshot,
} from '../../snapshot/snapshot.js';
import { unrecordedMale } from '../../snapshot/with-parents.js';
import { Animal, clutchAt, type ParentFinding, parentFinding } from '../animals/animal.types.js';
import type {
  ClutchSheet,
  ClutchStage,
  DerivedFathers,
  EggBatch,
  HatchWindow,
} from './season.types.js';
import { temperaturesOf } from './temperatures-of.js';

const NO_LOSSES = { infertile: 0, diedEarly: 0, diedLate: 0, lost: 0 };

/** A clutch of the snapshot with its eggs, boxes and parents. */
export function clutchSheet(snapshot: Snapshot, clutch: number, young: Young): ClutchSheet {
  const { clutches, season, pens } = snapshot;
  const species = speciesOf(snapshot, clutch);
  const losses = season.eggLosses.get(clutch) ?? NO_LOSSES;
  // Those promoted out of a lot stand in its book and among the animals.
  const hatched =
    young.count[clutch] +
    (season.hatchedInLots.get(clutch) ?? 0) -
    (season.promotedByClutch.get(clutch) ?? 0);
  const orNull = (value: number) => (value === NONE ? null : value);
  const eggs = orNull(clutches.eggs[clutch]);
  const broken = orNull(clutches.broken[clutch]) ?? 0;
  const notSet = orNull(clutches.notSet[clutch]) ?? 0;
  const lost = losses.infertile + losses.diedEarly + losses.diedLate + losses.lost;
  const open = eggs === null ? null : Math.max(0, eggs - broken - notSet - hatched - lost);
  const batches = season.batches.filter((batch) => batch.clutch === clutch);
  const stage: ClutchStage =
    open === 0 || (open === null && hatched > 0)
      ? 'DONE'
      : batches.length > 0
        ? 'INCUBATING'
        : 'LAID';
  const dam = parentsOf(snapshot, snapshot.dams, clutch);
  const pen = clutches.pens[clutch];
  const hatchDays = young.days.get(clutch);
  return {
    clutch: clutchAt(snapshot, clutch),
    laid: clutches.laid[clutch],
    stage,
    sentence: sentenceOf({ eggs, hatched, lost, open }, dam),
    eggs,
    broken,
    notSet,
    hatched,
    hatchedFrom: hatchDays ? dayText(hatchDays[0]) : null,
    hatchedTo: hatchDays ? dayText(hatchDays[1]) : null,
    open,
    losses: { ...losses },
    batches: batches.map((batch) =>
      batchOf(batch, clutches.laid[clutch], species, snapshot.speciesSettings.get(species ?? '')),
    ),
    pen: pen === null ? null : pens[pen].name,
    species,
    dam,
    // Worked out where they are asked for: a list of clutches does without.
    get sire() {
      return parentsOf(snapshot, snapshot.sires, clutch);
    },
    get derived() {
      return derivedOf(snapshot, clutch);
    },
    lots: season.lots.filter((lot) => lot.clutches.has(clutch)).map(({ code }) => code),
  };
}

/** The animals of each clutch by clutch position: how many, and the first and last day any of them may have hatched. */
export interface Young {
  readonly count: Int32Array;
  readonly days: ReadonlyMap<number, readonly [number, number]>;
}

export function youngByClutch(snapshot: Snapshot): Young {
  return kept.of(snapshot, () => countYoung(snapshot));
}

const kept = new PerSnapshot<Young>();

function countYoung({ animals, clutches, season }: Snapshot): Young {
  const count = new Int32Array(clutches.count);
  const days = new Map(season.hatchDaysInLots);
  for (let i = 0; i < animals.count; i++) {
    const clutch = animals.clutch[i];
    if (clutch === NONE) continue;
    count[clutch]++;
    const earliest = animals.hatchedEarliest[i];
    const latest = animals.hatchedLatest[i];
    if (earliest === NO_DAY) continue;
    const [from, to] = days.get(clutch) ?? [earliest, latest];
    days.set(clutch, [Math.min(from, earliest), Math.max(to, latest)]);
  }
  return { count, days };
}

export function speciesOf({ clutches, dams, animals }: Snapshot, clutch: number): string | null {
  const first = dams.from[clutch];
  const dam = first < dams.from[clutch + 1] ? animals.species[dams.animal[first]] : null;
  return clutches.species[clutch] ?? dam;
}

function sentenceOf(
  {
    eggs,
    hatched,
    lost,
    open,
  }: { eggs: number | null; hatched: number; lost: number; open: number | null },
  dam: ParentFinding,
): string {
  const mothers = dam.candidates.map(({ animal }) => animal.code);
  const whose = mothers.length === 0 ? 'of a mother nobody recorded' : `of ${mothers.join(' or ')}`;
  const parts = [
    hatched > 0 ? `${hatched} hatched` : '',
    lost > 0 ? `${lost} did not` : '',
    open ? `${open} still open` : '',
  ].filter(Boolean);
  if (eggs === null) parts.push('the eggs were not counted');
  const laid = eggs === null ? 'Eggs' : `${eggs} ${eggs === 1 ? 'egg' : 'eggs'}`;
  return `${laid} ${whose}${parts.length > 0 ? `: ${parts.join(', ')}` : ''}.`;
}

function parentsOf(snapshot: Snapshot, columns: CandidateColumns, clutch: number): ParentFinding {
  return parentFinding(snapshot, candidatesOfClutch(columns, clutch));
}

function derivedOf(snapshot: Snapshot, clutch: number): DerivedFathers | null {
  const found = snapshot.season.derivedFathers.get(clutch);
  if (!found) return null;
  const { settings } = snapshot.season;
  const fathers = found.fathers.map((father) => ({
    animal: new Animal(snapshot, Number(father.id)),
    probability: father.probability,
    possibleDays: Math.round(father.possibleDays),
    certainDays: Math.round(father.certainDays),
    matingsSeen: father.matingsSeen,
    lastDay: dayText(father.lastPossibleDay),
  }));
  const names = fathers.slice(0, 3).map(({ animal }) => animal.code);
  return {
    sentence:
      fathers.length === 0
        ? 'No male of the books was with her in the time that counts.'
        : `By who was where: ${names.join(' or ')}${fathers.length > 3 ? ` or one of ${fathers.length - 3} more` : ''}.`,
    fathers,
    unrecorded: found.unrecorded,
    assumptions: [
      ...carriedSperm(snapshot, clutch),
      ...storageWords(snapshot, clutch),
      `A day together counts half as much for every ${settings.recencyHalfYears} ${settings.recencyHalfYears === 1 ? 'year' : 'years'} before the laying, and half when it is only possible; a mating seen counts as 60 days. Our rule: common practice, no source.`,
      ...yardWords(snapshot, clutch),
      'These are the chances before colour; what the young show moves them.',
    ],
  };
}

/** For how long the possible mothers' species are taken to store sperm, and by what source. */
function storageWords(snapshot: Snapshot, clutch: number): string[] {
  const { animals, speciesSettings } = snapshot;
  const dams = candidatesOfClutch(snapshot.dams, clutch).map(({ position }) => position);
  return unique(
    dams.map((dam) => {
      const species = animals.species[dam];
      const own = speciesSettings.get(species)?.STORAGE_YEARS;
      const years = storageYears(snapshot, dam);
      const says = `store sperm for up to ${years} ${years === 1 ? 'year' : 'years'}`;
      return own
        ? `A female ${species} may ${says}: set by you for the species (${own.reason}).`
        : `A female may ${says}: set for the whole program. 3 years are supported (Pearse, Janzen & Avise 2001, painted turtle), 4 is the cautious setting (Ewing 1943, from memory).`;
    }),
  );
}

const YARD_WORDS = {
  CLOSED:
    'The yard was closed to males from outside in the time that counts: a male nobody recorded would be one of those then here.',
  OPEN: 'The yard was open in the time that counts: a male nobody recorded may have come from outside.',
  UNKNOWN:
    'For a part of the time that counts nobody said whether the yard was closed: a male nobody recorded may have come from outside.',
};

/** Who a male nobody recorded could be, by the state of the yard in the mothers' time. */
function yardWords(snapshot: Snapshot, clutch: number): string[] {
  return unique(
    candidatesOfClutch(snapshot.dams, clutch).map(
      ({ position }) => YARD_WORDS[unrecordedMale(snapshot, clutch, position).yard],
    ),
  );
}

const unique = (words: readonly string[]): string[] => [...new Set(words)];

/** Of each possible mother that came from elsewhere within the time that counts. */
function carriedSperm(snapshot: Snapshot, clutch: number): string[] {
  const { animals, clutches, season } = snapshot;
  return candidatesOfClutch(snapshot.dams, clutch).flatMap(({ position }) => {
    const came = season.arrivals.get(position);
    const laid = clutches.laidLatest[clutch];
    if (
      !came ||
      came.earliest > laid ||
      laid - came.latest > storageYears(snapshot, position) * 365.25
    )
      return [];
    return [
      `${animals.codes[position]} came ${came.earliest === came.latest ? `on ${dayText(came.earliest)}` : `between ${dayText(came.earliest)} and ${dayText(came.latest)}`} and may have laid by sperm from before: of a male where she came from, perhaps her own father or brother. He is part of 'a male nobody recorded'.`,
    ];
  });
}

function batchOf(
  batch: BatchRow,
  laid: string | null,
  species: string | null,
  own: SpeciesOverrides | undefined,
): EggBatch {
  const known = species ? temperaturesOf(species, own) : undefined;
  const celsius = batch.warmth.map((each) => each.celsius);
  const laidDate = laid ? parsePartialDate(laid) : null;
  const range = celsius.length > 0 ? ([Math.min(...celsius), Math.max(...celsius)] as const) : null;
  let window: HatchWindow | null = null;
  if (known && laidDate) {
    const line = range && known.days.length > 1 ? fitRateLine(known.days) : null;
    const near = line && range ? hatchWindow(laidDate, range, line) : null;
    const found = near ?? (known.dayRange ? wideHatchWindow(laidDate, known.dayRange) : null);
    if (found) {
      window = {
        from: dayText(found.earliest),
        to: dayText(found.latest),
        source: (near ? known.daysSource : known.dayRange?.source) ?? '',
      };
    }
  }
  const curve = known?.sex ?? null;
  const share = (at: number) => Math.round(100 * (1 - shareOfMales(curve!, at)));
  return {
    id: batch.id,
    label: batch.label,
    eggs: batch.eggs,
    setOn: batch.setOn,
    celsius,
    hatchWindow: window,
    sexOutlook:
      curve && range
        ? `${range[0] === range[1] ? `${share(range[0])} %` : `${Math.min(share(range[0]), share(range[1]))} to ${Math.max(share(range[0]), share(range[1]))} %`} females expected at these temperatures, if they were constant (${curve.source}). ${curve.caution} It tells no animal's sex.`
        : null,
    danger: known?.danger ?? null,
  };
}
