import { relatednessBetween } from '@scutewright/pedigree';
import {
  type AnimalOdds,
  type RankedPairing,
  rankMates,
  targetChances,
} from '@scutewright/planning';
import type { Definitions } from './egg-looks.js';
import { keptPedigree, type PedigreeInput } from './kept-pedigree.js';

export interface RankInput extends PedigreeInput {
  readonly definitions: Definitions;
  readonly trait: string;
  /** Positions; the odds stand in the same order. */
  readonly males: Int32Array;
  readonly females: Int32Array;
  readonly maleOdds: readonly AnimalOdds[];
  readonly femaleOdds: readonly AnimalOdds[];
  /** Of each female: eggs of the season x hatching share. */
  readonly hatchlings: Float64Array;
  readonly fertility: number;
  readonly lethalEquivalents: number;
}

/**
 * Every male with every female, best first, by position in `males` and `females`. The parents' odds are multiplied: approximate where they are related.
 */
export function rankTask(input: RankInput): RankedPairing[] {
  const { males, females } = input;
  const pedigree = keptPedigree(input);
  const kinship =
    males.length <= females.length
      ? relatednessBetween(pedigree, males, females)
      : turned(relatednessBetween(pedigree, females, males), females.length);
  for (let at = 0; at < kinship.length; at++) kinship[at] /= 2;
  const asked = { trait: input.trait, target: 'shown' };
  return rankMates(
    {
      males: males.length,
      females: females.length,
      kinship,
      target: targetChances(input.definitions, asked, input.maleOdds, input.femaleOdds),
      hatchlings: input.hatchlings,
      fertility: new Float64Array(males.length).fill(input.fertility),
      lethalEquivalents: input.lethalEquivalents,
      highestF: 1,
    },
    males.length * females.length,
  );
}

/** Rows as columns. */
function turned(block: Float64Array, rows: number): Float64Array {
  const columns = block.length / Math.max(1, rows);
  return Float64Array.from(block, (_, at) => block[(at % rows) * columns + Math.floor(at / rows)]);
}

export interface BestMatesInput extends RankInput {
  /** Pairs with a higher F stand apart. */
  readonly highestF: number;
  readonly first: number;
}

/** The best male of each female and the next best for her, best females first; and the best pairs over the limit of F. */
export interface BestMates {
  readonly pairs: readonly { readonly best: RankedPairing; readonly next: RankedPairing | null }[];
  readonly over: readonly RankedPairing[];
  readonly weighed: number;
  readonly females: number;
}

export function bestMatesTask({ highestF, first, ...input }: BestMatesInput): BestMates {
  const ranked = rankTask(input);
  const byFemale = new Map<number, RankedPairing[]>();
  const over: RankedPairing[] = [];
  for (const pair of ranked) {
    if (pair.F > highestF) {
      if (over.length < 5) over.push(pair);
      continue;
    }
    const own = byFemale.get(pair.female) ?? [];
    if (own.length < 2) own.push(pair);
    byFemale.set(pair.female, own);
  }
  return {
    pairs: [...byFemale.values()]
      .slice(0, first)
      .map(([best, next]) => ({ best, next: next ?? null })),
    over,
    weighed: ranked.length,
    females: byFemale.size,
  };
}
