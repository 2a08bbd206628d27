import type { ProgramInput } from '@scutewright/inference';
import { isFounder, sexFinding, sexOf } from '../snapshot/findings.js';
import {
  type CandidateColumns,
  type ColourCheck,
  NO_DAY,
  NONE,
  type Snapshot,
} from '../snapshot/snapshot.js';
import { pedigreeParts } from './pedigree-of.js';
import { seasonEvidence } from './season-evidence.js';

/** Age in days from which a look counts as a look at an adult. */
const ADULT_DAYS = 730;
/** Frequency of the rarer alleles together where the program sets none. Chosen by us: no source. */
export const ASSUMED_FREQUENCY = 0.05;

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/** The parts of a snapshot that `inferenceInput` reads. */
export const inferenceParts = (snapshot: Snapshot) => [
  ...pedigreeParts(snapshot),
  snapshot.loci,
  snapshot.locusPairs,
  snapshot.traits,
  snapshot.colourChecks,
  snapshot.declarations,
  snapshot.season.tests,
  snapshot.season.countedLooks,
];

/**
 * The records of a program as the inference takes them; animals and clutches are named by
 * their positions, records by their ids. `today`: days since 1970, the age of undated looks.
 */
export function inferenceInput(snapshot: Snapshot, today: number): ProgramInput {
  const { animals, clutches, loci, locusPairs, traits } = snapshot;
  const evidence: Evidence[] = [];
  for (const check of snapshot.colourChecks) {
    const hatched = animals.hatchedLatest[check.animal];
    const day = check.day === NO_DAY ? today : check.day;
    const ageDays = hatched === NO_DAY ? undefined : Math.max(0, day - hatched);
    for (const [trait, seen] of looksOf(check)) {
      evidence.push({
        kind: 'phenotype',
        id: `${check.id}/${trait}`,
        animal: String(check.animal),
        trait: traits[trait].name,
        seen,
        ageDays,
      });
    }
  }
  for (const { id, animal, locus, alleles, trust } of snapshot.declarations) {
    const genotypes = [alleles.join('/')];
    evidence.push({
      kind: 'claim',
      id,
      animal: String(animal),
      locus: loci[locus].code,
      genotypes,
      trust,
    });
  }
  for (const [locus, { code }] of loci.entries()) {
    for (const animal of freeFounders(snapshot, locus)) {
      evidence.push({
        kind: 'claim',
        id: freeRecord(locus, animal),
        animal: String(animal),
        locus: code,
        genotypes: commonGenotypes(snapshot, locus, animal),
        trust: 1,
      });
    }
  }
  const season = seasonEvidence(snapshot);
  evidence.push(...season.evidence);
  const pairsOf = (kind: 'LINKED' | 'ONE_GENE') =>
    locusPairs
      .filter((pair) => pair.kind === kind)
      .map(({ id, first, second, chance }) => ({
        id,
        loci: [loci[first].code, loci[second].code] as const,
        chance,
      }));
  return {
    linkage: pairsOf('LINKED').map(({ loci: linked, chance }) => ({ loci: linked, r: chance })),
    allelism: pairsOf('ONE_GENE').map(({ id, loci: alike, chance }) => ({
      id,
      loci: alike,
      probability: chance,
    })),
    loci: loci.map(({ code, definition }) => ({
      id: code,
      alleles: definition.alleles,
      inheritance: definition.inheritance,
      frequencies: definition.frequencies ?? assumedFrequencies(definition.alleles),
    })),
    traits: traits.map(({ name, definition }) => ({
      id: name,
      when: definition.when,
      misread: {
        young: definition.misreadYoung,
        adult: definition.misreadAdult,
        adultFromDays: ADULT_DAYS,
      },
    })),
    animals: Array.from({ length: animals.count }, (_, i) => ({
      id: String(i),
      sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexOf(snapshot, i)],
      clutch: animals.clutch[i] === NONE ? null : String(animals.clutch[i]),
    })),
    clutches: [
      ...Array.from({ length: clutches.count }, (_, c) => ({
        id: String(c),
        sires: candidates(snapshot.sires, c),
        dams: candidates(snapshot.dams, c),
        paternity: paternityOf(snapshot, c),
      })),
      ...season.clutches,
    ],
    finds: season.finds,
    evidence,
  };
}

/**
 * By trait that was looked for: whether it was seen. Of the others a look says nothing, since people write down what strikes them.
 */
function looksOf({ seen, absent }: ColourCheck): [number, boolean][] {
  return [
    ...seen.map((trait): [number, boolean] => [trait, true]),
    ...absent.map((trait): [number, boolean] => [trait, false]),
  ];
}

/** Founders that the program declares free of the rarer alleles of a locus, by position. */
export function freeFounders(snapshot: Snapshot, locus: number): number[] {
  const { animals, loci } = snapshot;
  const { founders } = loci[locus].definition;
  if (!founders) return [];
  const named = new Set(founders.animalIds.map((id) => animals.positionById.get(id)));
  return animals.ids.flatMap((_, position) =>
    isFounder(snapshot, position) && named.has(position) === (founders.rule === 'ALL_BUT')
      ? [position]
      : [],
  );
}

/** Id under which inference knows that a founder is declared free. */
function freeRecord(locus: number, animal: number): string {
  return `free/${locus}/${animal}`;
}

/** What such a record says, or null where the id is of another record. */
export function freeFounderOf(record: string): { locus: number; animal: number } | null {
  const found = /^free\/(\d+)\/(\d+)$/.exec(record);
  return found && { locus: Number(found[1]), animal: Number(found[2]) };
}

/** Genotypes of the commonest allele alone that an animal of this sex can have. */
function commonGenotypes(snapshot: Snapshot, locus: number, animal: number): string[] {
  const { alleles, inheritance } = snapshot.loci[locus].definition;
  const [common] = alleles;
  const two = `${common}/${common}`;
  const { sex } = sexFinding(snapshot, animal);
  if (inheritance === 'autosomal') return [two];
  if (sex === 'UNKNOWN') return [two, common];
  return (inheritance === 'x-linked') === (sex === 'MALE') ? [common] : [two];
}

/** Codes of the loci that a rule speaks of. */
export function lociOfRule(rule: object): string[] {
  if ('locus' in rule) return [String(rule.locus)];
  const parts =
    'all' in rule ? rule.all : 'any' in rule ? rule.any : 'not' in rule ? [rule.not] : [];
  return (parts as object[]).flatMap(lociOfRule);
}

export function assumedFrequencies(alleles: readonly string[]): Record<string, number> {
  const rare = ASSUMED_FREQUENCY / Math.max(1, alleles.length - 1);
  return Object.fromEntries(
    alleles.map((allele, i) => [
      allele,
      i > 0 ? rare : alleles.length === 1 ? 1 : 1 - ASSUMED_FREQUENCY,
    ]),
  );
}

function candidates(columns: CandidateColumns, clutch: number) {
  const list: { id: string; probability: number }[] = [];
  for (let i = columns.from[clutch]; i < columns.from[clutch + 1]; i++) {
    list.push({ id: String(columns.animal[i]), probability: columns.probability[i] });
  }
  return list;
}

function paternityOf(snapshot: Snapshot, clutch: number) {
  const rate = Number.isNaN(snapshot.clutches.rates[clutch]) ? 0 : snapshot.clutches.rates[clutch];
  switch (snapshot.clutches.paternities[clutch]) {
    case 'ONE_SIRE':
      return 'single' as const;
    case 'EACH_OWN_SIRE':
      return 'independent' as const;
    case 'MIXED':
      return { multiple: rate };
    case 'TWO_SIRES':
      return { twoSires: rate };
  }
}
