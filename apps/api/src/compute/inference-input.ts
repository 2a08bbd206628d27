import type { ProgramInput } from '@scutewright/inference';
import { sexFinding } from '../snapshot/findings.js';
import { type CandidateColumns, NO_DAY, NONE, type Snapshot } from '../snapshot/snapshot.js';

/** Age in days from which a look counts as a look at an adult. */
const ADULT_DAYS = 730;
/** Frequency of the rarer alleles together where the program sets none. Chosen by us: no source. */
export const ASSUMED_FREQUENCY = 0.05;

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/**
 * The records of a program as the inference takes them; animals and clutches are named by
 * their positions, records by their ids. `today`: days since 1970, the age of undated looks.
 */
export function inferenceInput(snapshot: Snapshot, today: number): ProgramInput {
  const { animals, clutches, loci, traits } = snapshot;
  const evidence: Evidence[] = [];
  for (const check of snapshot.colourChecks) {
    const hatched = animals.hatchedLatest[check.animal];
    const day = check.day === NO_DAY ? today : check.day;
    const ageDays = hatched === NO_DAY ? undefined : Math.max(0, day - hatched);
    for (const [trait, seen] of looksOf(snapshot, check.seen)) {
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
  return {
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
      sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexFinding(snapshot, i).sex],
      clutch: animals.clutch[i] === NONE ? null : String(animals.clutch[i]),
    })),
    clutches: Array.from({ length: clutches.count }, (_, c) => ({
      id: String(c),
      sires: candidates(snapshot.sires, c),
      dams: candidates(snapshot.dams, c),
      paternity: paternityOf(snapshot, c),
    })),
    evidence,
  };
}

/**
 * What a look says of each trait. A trait that was listed was seen; of those not listed it says
 * nothing, since people write down what strikes them. Only 'none' says that no trait was seen.
 */
function looksOf(snapshot: Snapshot, seen: readonly number[]): [number, boolean][] {
  if (seen.length > 0) return seen.map((trait) => [trait, true]);
  return snapshot.traits.map((_, trait) => [trait, false]);
}

/** Codes of the loci that a rule speaks of. */
export function lociOfRule(rule: object): string[] {
  if ('locus' in rule) return [String(rule.locus)];
  const parts =
    'all' in rule ? rule.all : 'any' in rule ? rule.any : 'not' in rule ? [rule.not] : [];
  return (parts as object[]).flatMap(lociOfRule);
}

function assumedFrequencies(alleles: readonly string[]): Record<string, number> {
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
