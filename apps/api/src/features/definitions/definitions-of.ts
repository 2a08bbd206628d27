import { FaultsError } from '@scutewright/basics';
import type { CheckTraitInput, InheritanceName } from '@scutewright/commands';
import {
  genotypeLooks,
  type Locus,
  lookGaps,
  type RuleInput,
  readLoci,
  readRuleText,
  readTraits,
  type Trait,
  type TraitInput,
  writeRuleText,
} from '@scutewright/genetics';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { ASSUMED_FREQUENCY, lociOfRule } from '../../compute/inference-input.js';
import { NONE, type Snapshot, type TraitRow } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import type {
  DefinedLocus,
  DefinedTrait,
  Definitions,
  GenotypeLook,
  PlainRule,
  TraitCheck,
} from './definition.types.js';
import { gapWords, lookWords, plainChoices, ruleSentence } from './trait-words.js';

const INHERITANCE: Record<string, InheritanceName> = {
  autosomal: 'AUTOSOMAL',
  'x-linked': 'X_LINKED',
  'z-linked': 'Z_LINKED',
};

/** The genes and traits of a snapshot, in words and with what each genotype looks like. `genes` is needed only where lines may be one gene. */
export function definitionsOf(snapshot: Snapshot, genes: GenesAnswer | null): Definitions {
  const { animals } = snapshot;
  const loci = readLoci(locusInputs(snapshot));
  const looks = looksOf(loci, readTraits(traitInputs(snapshot.traits), loci));
  return {
    loci: snapshot.loci.map((_, at) => definedLocus(snapshot, at, looks)),
    traits: snapshot.traits.map((row, at) => definedTrait(snapshot, row, at, loci)),
    pairs: snapshot.locusPairs.map(({ id, first, second, kind, chance, reason }) => ({
      id,
      firstId: snapshot.loci[first].id,
      secondId: snapshot.loci[second].id,
      kind,
      chance,
      reason,
      now: kind === 'ONE_GENE' && genes?.isPossible ? (genes.oneGene[id] ?? null) : null,
    })),
    founders: animals.ids.flatMap((_, i) =>
      animals.clutch[i] === NONE ? [new Animal(snapshot, i)] : [],
    ),
    assumedFrequency: ASSUMED_FREQUENCY,
    revision: snapshot.revision,
  };
}

function locusInputs(snapshot: Snapshot) {
  return snapshot.loci.map(({ code, definition }) => ({
    id: code,
    alleles: definition.alleles,
    inheritance: definition.inheritance,
  }));
}

function traitInputs(traits: readonly TraitRow[]): TraitInput[] {
  return traits.map(({ name, definition }) => ({ id: name, when: definition.when }));
}

/** What every genotype looks like, in words. */
function looksOf(
  loci: ReadonlyMap<string, Locus>,
  traits: ReadonlyMap<string, Trait>,
): GenotypeLook[] {
  const looks = genotypeLooks(loci, traits);
  const gaps = lookGaps(looks, traits, loci);
  return looks.map(({ locus, genotype, rareCopies, shows }) => {
    const gap = gaps.find((each) => each.locus === locus && each.genotype === genotype);
    return {
      locus,
      genotype: loci.get(locus)?.genotypes[genotype].text ?? '',
      rareCopies,
      looks: lookWords(shows),
      gap: gap ? gapWords(gap.traits) : null,
    };
  });
}

function definedLocus(
  snapshot: Snapshot,
  at: number,
  looks: readonly GenotypeLook[],
): DefinedLocus {
  const { id, code, name, definition } = snapshot.loci[at];
  const { alleles, inheritance, frequencies, founders } = definition;
  const { positionById } = snapshot.animals;
  return {
    id,
    code,
    name,
    inheritance: INHERITANCE[inheritance],
    alleles: alleles.map((allele) => ({
      name: allele,
      frequency: frequencies ? String(frequencies[allele] ?? 0) : null,
    })),
    founderRule: founders?.rule ?? 'ANY',
    founders: (founders?.animalIds ?? []).flatMap((animal) => {
      const position = positionById.get(animal);
      return position === undefined ? [] : [new Animal(snapshot, position)];
    }),
    looks: looks.filter((look) => look.locus === code),
    declarations: snapshot.declarations.filter(({ locus }) => locus === at).length,
  };
}

function definedTrait(
  snapshot: Snapshot,
  { id, name, definition }: TraitRow,
  at: number,
  loci: ReadonlyMap<string, Locus>,
): DefinedTrait {
  const { when, description, misreadYoung, misreadAdult, welfareNote, welfareSource } = definition;
  return {
    id,
    name,
    shows: writeRuleText(when),
    plain: plainRule(snapshot, when),
    said: ruleSentence(name, when, loci),
    loci: [...new Set(lociOfRule(when))],
    description: description ?? null,
    misreadYoung,
    misreadAdult,
    welfareNote: welfareNote ?? null,
    welfareSource: welfareSource ?? null,
    seenIn: snapshot.colourChecks.filter(({ seen }) => seen.includes(at)).length,
  };
}

function plainRule(snapshot: Snapshot, when: RuleInput): PlainRule | null {
  const plain = plainChoices(when);
  const locus = plain && snapshot.loci.find(({ code }) => code === plain.locus);
  if (!plain || !locus) return null;
  const { genotypes, fromDays, sex } = plain;
  return { locusId: locus.id, genotypes: [...genotypes], fromDays, sex };
}

/** A trait as it is being written: its faults, its sentence, and the looks of its genes' genotypes with it. */
export function checkTrait(snapshot: Snapshot, input: CheckTraitInput): TraitCheck {
  const name = input.name || 'so';
  const loci = readLoci(locusInputs(snapshot));
  let said = '';
  try {
    const when = readRuleText(input.shows);
    said = ruleSentence(name, when, loci);
    const others = snapshot.traits.filter(({ id }) => id !== input.traitId);
    const traits = readTraits([...traitInputs(others), { id: name, when }], loci);
    const own = lociOfRule(when);
    const looks = looksOf(loci, traits).filter(({ locus }) => own.includes(locus));
    return { faults: [], said, looks };
  } catch (error) {
    if (!(error instanceof FaultsError)) throw error;
    const faults = error.faults.map(({ message, remedy }) => ({ message, remedy }));
    return { faults, said, looks: [] };
  }
}
