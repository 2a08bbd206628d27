import { Fraction } from '@scutewright/basics';
import {
  type CrossInput,
  clutchOdds,
  crossOdds,
  outOf,
  simplestFrequency,
} from '@scutewright/genetics';
import type { JointAnswer } from './genes-task.js';

/** A chance for a page: as a number, exactly where it is exact, as people count, and of 20 eggs. */
export interface ShareFigure {
  readonly value: number;
  /** `2/3`; null where the chance is not exact. */
  readonly exact: string | null;
  readonly said: string;
  readonly ofTwenty: number;
  readonly about: boolean;
}

/** Fractions with a larger denominator come from posteriors, and are not worth reading. */
const MOST_DENOMINATOR = 4096n;

export function shareFigure(chance: Fraction): ShareFigure {
  const simple = simplestFrequency(chance);
  const twenty = outOf(chance, 20);
  const isExact = chance.denominator <= MOST_DENOMINATOR;
  return {
    value: chance.toNumber(),
    exact: isExact ? chance.toString() : null,
    said: sayFrequency(simple),
    ofTwenty: twenty.count,
    about: twenty.about,
  };
}

/** Finer than one in this many is not said: no record of a breeder's is that sure. */
const FINEST = 1000;

function sayFrequency({ count, of, about }: { count: number; of: number; about: boolean }): string {
  if (of > FINEST) {
    return count * 2 < of ? `fewer than 1 in ${FINEST}` : `more than ${FINEST - 1} in ${FINEST}`;
  }
  if (count === 0 && about) return `fewer than 1 in ${of}`;
  if (count === 0) return 'none';
  if (count === of && !about) return 'all';
  return `${about ? 'about ' : ''}${count} in ${of}`;
}

/**
 * The simple fraction a double stands for (denominator up to 1,000, within 1e-12), else its
 * own value: posteriors such as 0.6666666666666667 are 2/3 again.
 */
export function simpleFraction(value: number): Fraction {
  for (let denominator = 1; denominator <= 1000; denominator++) {
    const numerator = Math.round(value * denominator);
    if (Math.abs(value - numerator / denominator) < 1e-12)
      return Fraction.of(numerator, denominator);
  }
  return Fraction.parse(value);
}

export interface CrossTaskInput {
  readonly definitions: Pick<CrossInput, 'loci' | 'traits'>;
  readonly joint: JointAnswer['byLocus'];
  readonly eggs: number;
}

export interface TargetFigure {
  readonly trait: string;
  readonly share: ShareFigure;
  readonly counts: readonly { readonly exactly: number; readonly atLeast: number }[];
  readonly atLeastOne: ShareFigure;
  readonly eggsNeeded: readonly { readonly level: number; readonly eggs: number | null }[];
  readonly limit: ShareFigure;
  /** What it is given each combination of the parents, likeliest first; one entry where they are certain. */
  readonly cases: readonly { readonly perEgg: ShareFigure; readonly weight: ShareFigure }[];
}

export interface CrossFigures {
  readonly classes: Readonly<
    Record<string, readonly { readonly name: string; readonly share: ShareFigure }[]>
  >;
  readonly hatchlings: Readonly<
    Record<string, readonly { readonly genotype: string; readonly share: ShareFigure }[]>
  >;
  readonly targets: readonly TargetFigure[];
}

/** Odds of one pairing from the joint distribution of its parents: one egg, and a clutch that shares its parents. */
export function crossTask({ definitions, joint, eggs }: CrossTaskInput): CrossFigures {
  const { loci, traits = [] } = definitions;
  const independent = loci.map(({ id }) => {
    const rows = joint[id].map(({ sire, dam, probability }) => ({
      probability: simpleFraction(probability).toString(),
      sire: { [id]: sire },
      dam: { [id]: dam },
    }));
    return { parents: rows };
  });
  const odds = crossOdds({ loci, traits, independent });
  const list = (chances: Readonly<Record<string, Fraction>>) =>
    Object.entries(chances).sort(([, a], [, b]) => b.compare(a));
  return {
    classes: Object.fromEntries(
      Object.entries(odds.traits).map(([trait, { classes }]) => [
        trait,
        list(classes).map(([name, share]) => ({ name, share: shareFigure(share) })),
      ]),
    ),
    hatchlings: Object.fromEntries(
      Object.entries(odds.hatchlings).map(([locus, chances]) => [
        locus,
        list(chances).map(([genotype, share]) => ({ genotype, share: shareFigure(share) })),
      ]),
    ),
    targets: traits.map(({ id }) => {
      const clutch = clutchOdds({ loci, traits, independent, eggs, trait: id, target: 'shown' });
      let above = 1;
      return {
        trait: id,
        share: shareFigure(odds.traits[id].classes.shown ?? Fraction.zero),
        counts: clutch.counts.map((exactly) => {
          const atLeast = above;
          above = Math.max(0, above - exactly);
          return { exactly, atLeast };
        }),
        atLeastOne: shareFigure(
          clutch.exact?.atLeastOne.any ?? simpleFraction(clutch.atLeastOne.any),
        ),
        eggsNeeded: clutch.eggsNeeded.map(({ level, eggs: needed }) => ({
          level: level.toNumber(),
          eggs: needed,
        })),
        limit: shareFigure(clutch.limit),
        cases: [...clutch.perEgg]
          .sort((a, b) => b.weight.compare(a.weight))
          .slice(0, 6)
          .map(({ probability, weight }) => ({
            perEgg: shareFigure(probability),
            weight: shareFigure(weight),
          })),
      };
    }),
  };
}

export interface TargetsInput {
  readonly definitions: Pick<CrossInput, 'loci' | 'traits'>;
  readonly trait: string;
  /** Genotype odds by locus, of the animal and of each mate; taken as independent of each other. */
  readonly animal: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly mates: readonly Readonly<Record<string, Readonly<Record<string, number>>>>[];
  readonly isSire: boolean;
}

/** P(an egg shows the trait) with each mate. */
export function targetsTask({ definitions, trait, animal, mates, isSire }: TargetsInput): number[] {
  // By way of simple fractions, so that 1.0000000000000002 is the 1 that it stands for.
  const mixture = (odds: Readonly<Record<string, number>>, locus: string) =>
    Object.entries(odds).map(([genotype, probability]) => ({
      probability: simpleFraction(probability).toString(),
      genotypes: { [locus]: genotype },
    }));
  // Mates with the same odds give the same answer.
  const known = new Map<string, number>();
  return mates.map((mate) => {
    const key = JSON.stringify(mate);
    let chance = known.get(key);
    if (chance === undefined) {
      const independent = definitions.loci.map(({ id }) => {
        const [sire, dam] = isSire ? [animal, mate] : [mate, animal];
        return { sire: mixture(sire[id], id), dam: mixture(dam[id], id) };
      });
      const odds = crossOdds({ ...definitions, independent });
      chance = odds.traits[trait].classes.shown?.toNumber() ?? 0;
      known.set(key, chance);
    }
    return chance;
  });
}
