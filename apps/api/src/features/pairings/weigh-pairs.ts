import type { PairingSettings } from '@scutewright/commands';
import { INBREEDING_COSTS, type RankedPairing } from '@scutewright/planning';
import { definitionsOf } from '../../compute/definitions-of.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { lociOfRule } from '../../compute/inference-input.js';
import { pedigreeOf } from '../../compute/pedigree-of.js';
import type { RankInput } from '../../compute/rank-task.js';
import type { Snapshot, TraitRow } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import { geneAssumptions } from '../genes/genes.resolver.js';
import { pairCautions } from './pair-cautions.js';
import type { PairingFigures, WeighedPair } from './pairings.types.js';
import { seasonFigures } from './season-defaults.js';

/** Who is weighed, for what, by which figures. */
export interface Weighing {
  readonly snapshot: Snapshot;
  readonly trait: TraitRow;
  readonly males: readonly number[];
  readonly females: readonly number[];
  readonly settings: PairingSettings;
  /** Equivalent complete generations behind every animal. */
  readonly generations: Float64Array;
}

/** What the worker ranks. */
export function rankInput(weighing: Weighing, genes: GenesAnswer): RankInput {
  const { snapshot, trait, males, females, settings } = weighing;
  const codes = [...new Set(lociOfRule(trait.definition.when))];
  const { loci, traits } = definitionsOf(snapshot);
  const odds = (position: number) =>
    Object.fromEntries(codes.map((code) => [code, genes.genotypes[String(position)][code]]));
  const figures = (position: number) => {
    const species = snapshot.animals.species[position];
    return seasonFigures(species, settings, snapshot.speciesSettings.get(species));
  };
  const { fertility, lethalEquivalents } = figures(females[0] ?? males[0]);
  return {
    ...pedigreeOf(snapshot),
    definitions: {
      loci: loci.filter(({ id }) => codes.includes(id)),
      traits: traits.filter(({ id }) => id === trait.name),
    },
    trait: trait.name,
    males: Int32Array.from(males),
    females: Int32Array.from(females),
    maleOdds: males.map(odds),
    femaleOdds: females.map(odds),
    hatchlings: Float64Array.from(females, (female) => {
      const { clutches, eggsPerClutch, hatch } = figures(female);
      return clutches * eggsPerClutch * hatch;
    }),
    fertility,
    lethalEquivalents,
  };
}

/** A ranked pair as the API shows it; `ahead` is the one that it is measured against, null for the first. */
export function weighedPair(
  { snapshot, trait, males, females, settings, generations }: Weighing,
  pair: RankedPairing,
  ahead: RankedPairing | null,
): WeighedPair {
  const [sire, dam] = [males[pair.male], females[pair.female]];
  const { codes, species } = snapshot.animals;
  const { clutches, eggsPerClutch, fertility, hatch } = seasonFigures(
    species[dam],
    settings,
    snapshot.speciesSettings.get(species[dam]),
  );
  const unknownBehind = [sire, dam].filter((position) => generations[position] === 0);
  const young = pair.value < 0.05 ? 'Hardly any' : `About ${pair.value.toFixed(1)}`;
  return {
    sire: new Animal(snapshot, sire),
    dam: new Animal(snapshot, dam),
    value: pair.value,
    F: pair.F,
    unknownBehind: unknownBehind.map((position) => new Animal(snapshot, position)),
    parts: {
      eggs: clutches * eggsPerClutch,
      fertility,
      hatch,
      inbreedingSurvival: pair.inbreedingSurvival,
      target: pair.target,
    },
    sentence: `${young} healthy ${trait.name} young in a season; F of the young ${fWords(pair.F)}.`,
    reason: ahead ? whyBehind(pair, ahead, trait.name) : whyFirst(pair, trait.name),
    // What nobody recorded is said in a word beside F; a whole caution on every founder would hide the others.
    cautions: pairCautions({
      ...{ F: pair.F, highest: pair.F, visible: [] },
      unknownBehind: [],
    }).map((caution) => ({
      ...caution,
      text: `${codes[sire]} with ${codes[dam]}: ${caution.text}`,
    })),
  };
}

const fWords = (F: number) => (F === 0 ? '0' : F.toFixed(3));
const share = (part: number) => `${Number((part * 20).toFixed(1))} of 20`;

function whyFirst(pair: RankedPairing, trait: string): string {
  if (pair.target === 0) return `No pair can give ${trait}, as far as the records go.`;
  const kin =
    pair.F === 0
      ? 'and they share no ancestor in our books'
      : `and F ${fWords(pair.F)} leaves ${share(pair.inbreedingSurvival)}`;
  return `${share(pair.target)} of the young should be ${trait}, ${kin}.`;
}

/** The parts in which it falls short of the other, the largest first; where it is ahead is said too. */
function whyBehind(pair: RankedPairing, ahead: RankedPairing, trait: string): string {
  const parts = [
    {
      of: (each: RankedPairing) => each.target,
      words: (each: RankedPairing) => `${share(each.target)} ${trait}`,
    },
    {
      of: (each: RankedPairing) => each.inbreedingSurvival,
      words: (each: RankedPairing) => `F ${fWords(each.F)}`,
    },
    {
      of: (each: RankedPairing) => each.hatchlings,
      words: (each: RankedPairing) => `${each.hatchlings.toFixed(1)} hatchlings a season`,
    },
  ];
  const moved = parts
    .map((part) => ({
      ...part,
      by: Math.log(part.of(pair) + 1e-12) - Math.log(part.of(ahead) + 1e-12),
    }))
    .sort((a, b) => a.by - b.by);
  const worse = moved.filter(({ by }) => by < -1e-9);
  const better = moved.filter(({ by }) => by > 1e-9);
  const list = (which: typeof moved) =>
    which.map(({ words }) => `${words(pair)} instead of ${words(ahead)}`).join(', ');
  if (worse.length === 0) return 'As good as the one before it, part for part.';
  return `${capital(list(worse))}${better.length > 0 ? `; better in ${list(better)}` : ''}.`;
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

/** The figures of a season with the choices that the page offers. */
export function settingsOf(
  { pens, speciesSettings }: Snapshot,
  species: string,
  settings: PairingSettings,
): PairingFigures {
  return {
    ...seasonFigures(species, settings, speciesSettings.get(species)),
    costs: INBREEDING_COSTS.map(({ lethalEquivalents, source, measuredOn }) => ({
      ...{ lethalEquivalents, source, measuredOn },
    })),
    pens: pens.map(({ id, name }) => ({ id, name })),
  };
}

export function weighingAssumptions(snapshot: Snapshot, { sources }: PairingFigures): string[] {
  return [
    ...geneAssumptions(snapshot),
    'Approximate for animals that are related and for traits of several genes: the odds of each animal and each gene are multiplied here; open a pairing for the exact odds.',
    ...sources,
  ];
}
