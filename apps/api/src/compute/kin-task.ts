import { seededRandom } from '@scutewright/basics';
import {
  commonAncestors,
  completeness,
  effectiveAncestors,
  founderContributions,
  geneDiversity,
  genomeEquivalents,
  inbreeding,
  meanKinship,
  neFromIndividualIncrease,
  type Pedigree,
  pedigreeLayout,
  relatednessRange,
} from '@scutewright/pedigree';
import { keptPedigree, type PedigreeInput } from './kept-pedigree.js';

export interface GroupInput extends PedigreeInput {
  readonly animals: Int32Array;
}

export interface PairsInput extends GroupInput {
  /** The pedigree of the worst case, where there is one. */
  readonly worst: PedigreeInput | null;
}

export interface PairFigure {
  readonly a: number;
  readonly b: number;
  /** a_ij, expected over the possible fathers, and its least and greatest value over them. */
  readonly relatedness: number;
  readonly lowest: number;
  readonly highest: number;
  readonly isExact: boolean;
  /** The same were a male nobody recorded the nearest of the program's own; null where that makes them no nearer. */
  readonly worst: number | null;
  /** False: not every combination was looked at, so that it may be more. */
  readonly isWorstExact: boolean;
  /** Ancestors shared, with their part of the F of a young of the two; at most five. */
  readonly ancestors: readonly { readonly row: number; readonly contribution: number }[];
}

/** Every pair of the animals: relatedness, its range, whom they share. */
export function pairsTask({ animals, worst, ...input }: PairsInput): PairFigure[] {
  const pedigree = keptPedigree(input);
  const worstPedigree = worst && keptPedigree(worst);
  const figures: PairFigure[] = [];
  for (let i = 0; i < animals.length; i++) {
    for (let j = i + 1; j < animals.length; j++) {
      // The same draws for both: where the male nobody recorded is no forebear of the two, they are the same to the last digit.
      const sampling = () => ({ random: seededRandom(1), samples: 400 });
      const range = relatednessRange(pedigree, animals[i], animals[j], sampling());
      const worse = worstPedigree
        ? relatednessRange(worstPedigree, animals[i], animals[j], sampling())
        : range;
      const { ancestors } = commonAncestors(pedigree, animals[i], animals[j], 200);
      figures.push({
        a: animals[i],
        b: animals[j],
        relatedness: range.mean,
        lowest: range.lowest,
        highest: range.highest,
        isExact: range.exact,
        worst: worse.highest > range.highest + 1e-9 ? worse.highest : null,
        isWorstExact: worse.exact,
        ancestors: ancestors.filter(({ row }) => row < pedigree.size).slice(0, 5),
      });
    }
  }
  return figures;
}

export interface PathsInput extends PedigreeInput {
  readonly a: number;
  readonly b: number;
  readonly most: number;
}

/** One line over which two animals may hold the same copy of a gene. */
export interface PathFigure {
  /** From the one over the common ancestor to the other; null for an animal nobody recorded. */
  readonly through: readonly (number | null)[];
  readonly ancestor: number | null;
  /** Its part of the F of a young of the two. */
  readonly contribution: number;
}

/**
 * The paths between two animals, those that add most first; what is not listed is in `remainder`. `founders`: those behind
 * the one and behind the other, the largest share first.
 */
export function pathsTask({ a, b, most, ...input }: PathsInput) {
  const pedigree = keptPedigree(input);
  const { paths, total, remainder } = commonAncestors(pedigree, a, b, most);
  const foundersOf = (animal: number) =>
    largestFirst(founderContributions(pedigree, [animal]).founders).map(({ row }) => row);
  const figures = paths.map(({ through, ancestor, contribution }): PathFigure => {
    // An uncertain parent stands before each of its candidates; it is a place on the path only where it is the ancestor.
    const named = through.filter((row) => row < pedigree.size || row === ancestor);
    const row = (each: number) => (each < pedigree.size ? each : null);
    return { through: named.map(row), ancestor: row(ancestor), contribution };
  });
  return { paths: figures, total, remainder, founders: [foundersOf(a), foundersOf(b)] };
}

export interface LineageInput extends PedigreeInput {
  readonly animal: number;
  readonly shown: Int32Array;
}

/** What the lineage page of one animal draws and says. */
export function lineageTask({ animal, shown, ...input }: LineageInput) {
  const pedigree = keptPedigree(input);
  const [known] = completeness(pedigree, [animal], 6);
  const { founders, unrecorded } = founderContributions(pedigree, [animal]);
  return {
    layout: pedigreeLayout(pedigree, shown),
    known: [...known.knownByGeneration],
    founders: largestFirst(founders),
    unrecorded,
  };
}

function largestFirst<Founder extends { readonly share: number }>(
  founders: readonly Founder[],
): Founder[] {
  return [...founders].sort((a, b) => b.share - a.share);
}

/** Ne of the group by how its inbreeding grew; null where nobody is inbred, for then it cannot be told. */
function breedingSize(pedigree: Pedigree, animals: Int32Array, F: Float64Array): number | null {
  const back = completeness(pedigree, animals, 1).map((one) => one.equivalentGenerations);
  const own = Float64Array.from(animals, (row) => F[row]);
  const { ne } = neFromIndividualIncrease(own, back, 't');
  return Number.isFinite(ne) ? ne : null;
}

/** Simulated descents where an exact count is out of reach: a founder's retention is then right to about 0.02. */
const HEALTH_DROPS = 500;

/** The state of a group: founders, diversity, inbreeding. */
export function healthTask({ animals, ...input }: GroupInput) {
  const pedigree = keptPedigree(input);
  const { founders, unrecorded, effectiveFounders } = founderContributions(pedigree, animals);
  const each = meanKinship(pedigree, animals);
  const F = inbreeding(pedigree);
  const equivalents = genomeEquivalents(pedigree, animals, {
    random: seededRandom(1),
    replicates: HEALTH_DROPS,
  });
  return {
    founders: largestFirst(founders),
    unrecorded,
    effectiveFounders,
    effectiveAncestors: effectiveAncestors(pedigree, animals).effectiveAncestors,
    geneDiversity: geneDiversity(pedigree, animals),
    meanKinship: each.reduce((sum, value) => sum + value, 0) / Math.max(1, each.length),
    meanInbreeding: animals.reduce((sum, row) => sum + F[row], 0) / Math.max(1, animals.length),
    equivalents,
    breedingSize: breedingSize(pedigree, animals, F),
    kinshipOfEach: each,
  };
}
