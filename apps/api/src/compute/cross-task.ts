import { Fraction } from '@scutewright/basics';
import { clutchOdds } from '@scutewright/genetics';
import {
  type Definitions,
  definitionsOfTrait,
  type Look,
  type LookKind,
  lookCases,
  looksOfYoung,
  type Parents,
} from './egg-looks.js';
import type { JointAnswer } from './joint-parents-task.js';
import { type ShareFigure, shareFigure, simpleFraction } from './share-figure.js';

export interface CrossTaskInput {
  readonly definitions: Definitions;
  readonly linkage: Parents['linkage'];
  readonly joint: JointAnswer['byTrait'];
  readonly eggs: number;
}

export interface LookFigure {
  readonly kind: LookKind;
  readonly trait: string | null;
  readonly share: ShareFigure;
  /** Of twenty; those of all looks add to twenty. */
  readonly eggs: number;
}

/** What one trait comes to, for an egg and for a clutch. */
export interface TraitFigure {
  readonly trait: string;
  readonly looks: readonly LookFigure[];
  /** Chance that a young shows it. */
  readonly share: ShareFigure;
  /** Of the young that show nothing, those that carry it; null where all show something. */
  readonly plainCarry: ShareFigure | null;
  readonly counts: readonly { readonly exactly: number; readonly atLeast: number }[];
  readonly atLeastOne: ShareFigure;
  readonly eggsNeeded: readonly { readonly level: number; readonly eggs: number | null }[];
  readonly limit: ShareFigure;
  /** By what the parents are together, likeliest first; one entry where they are certain. */
  readonly cases: readonly {
    readonly weight: ShareFigure;
    readonly share: ShareFigure;
    readonly looks: readonly LookFigure[];
    readonly copies: readonly { readonly sire: number; readonly dam: number }[];
  }[];
}

/** Odds of one pairing from the joint distribution of its parents: one egg, and a clutch that shares its parents. */
export function crossTask({ definitions, linkage, joint, eggs }: CrossTaskInput): TraitFigure[] {
  return definitions.traits.map(({ id }) => {
    const independent = joint[id].map((rows) => ({
      parents: rows.flatMap((row) => {
        const probability = simpleFraction(row.probability);
        // What is so unlikely that it rounds to nothing is no case of its own.
        return probability.isZero ? [] : [{ ...row, probability: probability.toString() }];
      }),
    }));
    const own = independent.flatMap(({ parents: [row] }) => Object.keys(row.sire));
    const parents = {
      independent,
      // Linked genes that had to be taken apart are passed on apart as well.
      linkage:
        independent.length > 1
          ? []
          : linkage.filter(({ loci }) => loci.every((locus) => own.includes(locus))),
    };
    const looks = looksOfYoung(definitions, id, parents);
    const clutch = clutchOdds({
      ...definitionsOfTrait(definitions, id, own),
      ...parents,
      eggs,
      trait: id,
      target: 'shown',
    });
    let above = 1;
    return {
      trait: id,
      looks: looks.map(lookFigure),
      share: shareFigure(shareOf(looks, 'SHOWS')),
      plainCarry: plainCarry(looks),
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
      cases: lookCases(definitions, id, parents).map((one) => ({
        weight: shareFigure(one.weight),
        share: shareFigure(shareOf(one.looks, 'SHOWS')),
        looks: one.looks.map(lookFigure),
        copies: one.copies,
      })),
    };
  });
}

const shareOf = (looks: readonly Look[], kind: LookKind): Fraction =>
  looks.reduce((sum, look) => (look.kind === kind ? sum.plus(look.share) : sum), Fraction.zero);

function plainCarry(looks: readonly Look[]): ShareFigure | null {
  const carries = shareOf(looks, 'CARRIES');
  const plain = carries.plus(shareOf(looks, 'CLEAR'));
  return plain.isZero ? null : shareFigure(carries.over(plain));
}

function lookFigure({ kind, trait, share, eggs }: Look): LookFigure {
  return { kind, trait, share: shareFigure(share), eggs };
}
