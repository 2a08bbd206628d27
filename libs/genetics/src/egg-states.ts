import { FaultsError, Fraction } from '@scutewright/basics';
import type { Clutches, Paternity } from './clutch-input.js';
import type { Cross } from './cross-input.js';
import type { Sex } from './locus.js';
import type { Rule } from './rule.js';
import { type Outcome, outcomesByParents } from './young-outcomes.js';

/** One way in which a clutch may come by its sires: then its eggs are alike and independent. */
export interface EggDraw {
  readonly weight: Fraction;
  /** Chance per egg of a living male, female of the target; and of not being lost to a lethal genotype. */
  readonly male: Fraction;
  readonly female: Fraction;
  readonly alive: Fraction;
}

/** What the parents may be; each clutch makes its own draw. */
export interface EggState {
  readonly weight: Fraction;
  readonly draws: readonly EggDraw[];
}

/**
 * What the parents of a clutch may be, by what it means for the target; weights add to 1, and so do
 * those of the draws of a state. Hatching is not yet in it. Young already seen have moved the weights (Bayes' rule).
 * Throws FaultsError `IMPOSSIBLE_COUNTS` when they cannot come from these parents.
 */
export function eggStates(clutches: Clutches): EggState[] {
  const { cross, target, paternity, seen } = clutches;
  const question = { classes: [[target], [cross.lethal]], loci: [] };
  const single = clutches.eggs.length === 1 && seen.length === 0;
  if (cross.sires.length === 1 || (paternity.kind === 'ONE_SIRE' && single)) {
    // With one draw in all, the candidates need not be held side by side.
    const states = cross.sires.flatMap(({ probability }, k) =>
      outcomesByParents(cross, question, [k]).map(({ weight, bySire }) => ({
        weight: weight.times(probability),
        draws: [draw(Fraction.one, bySire[0])],
      })),
    );
    return weighed(
      states.filter(({ weight }) => !weight.isZero),
      seen,
    );
  }
  const all = cross.sires.map((_, k) => k);
  const states = outcomesByParents(cross, question, all).map(({ weight, bySire }) => ({
    weight,
    draws: drawsOf(
      bySire.map((outcomes, k) => draw(cross.sires[k].probability, outcomes)),
      paternity,
    ),
  }));
  return weighed(states, seen);
}

function draw(weight: Fraction, outcomes: readonly Outcome[]): EggDraw {
  const sum = (holds: (outcome: Outcome) => boolean): Fraction =>
    outcomes.reduce(
      (total, outcome) => (holds(outcome) ? total.plus(outcome.probability) : total),
      Fraction.zero,
    );
  const isAlive = ({ classes }: Outcome): boolean => classes[1] !== 0;
  const isTarget = (sex: Sex) => (outcome: Outcome) =>
    outcome.sex === sex && outcome.classes[0] === 0 && isAlive(outcome);
  return { weight, male: sum(isTarget('m')), female: sum(isTarget('f')), alive: sum(isAlive) };
}

/** The draws of a clutch from those of its candidate sires. */
function drawsOf(sires: readonly EggDraw[], paternity: Paternity): EggDraw[] {
  const several = paternity.rate;
  switch (paternity.kind) {
    case 'ONE_SIRE':
      return [...sires];
    case 'EACH_OWN_SIRE':
      return [average(sires, Fraction.one)];
    case 'MIXED':
      return [...scaled(sires, several.complement()), average(sires, several)];
    case 'TWO_SIRES':
      return [...scaled(sires, several.complement()), ...pairs(sires, several)];
  }
}

function scaled(sires: readonly EggDraw[], share: Fraction): EggDraw[] {
  return sires.map((sire) => ({ ...sire, weight: sire.weight.times(share) }));
}

/** Every egg draws its own sire: their mean. */
function average(sires: readonly EggDraw[], weight: Fraction): EggDraw {
  const mean = (of: (sire: EggDraw) => Fraction): Fraction =>
    sires.reduce((sum, sire) => sum.plus(sire.weight.times(of(sire))), Fraction.zero);
  return {
    weight,
    male: mean((sire) => sire.male),
    female: mean((sire) => sire.female),
    alive: mean((sire) => sire.alive),
  };
}

/**
 * Exactly two sires, an egg of either with 1/2. The two are two draws by the weights, given that they
 * differ, as in the pedigree's TWO_SIRES. A single possible sire stays alone.
 */
function pairs(sires: readonly EggDraw[], share: Fraction): EggDraw[] {
  const possible = sires.filter((sire) => !sire.weight.isZero);
  if (possible.length === 1) return [{ ...possible[0], weight: share }];
  const both: EggDraw[] = [];
  let differ = Fraction.zero;
  for (const [i, a] of possible.entries()) {
    for (const b of possible.slice(i + 1)) {
      const chance = a.weight.times(b.weight);
      differ = differ.plus(chance);
      const halves = [a, b].map((sire) => ({ ...sire, weight: Fraction.half }));
      both.push(average(halves, share.times(chance)));
    }
  }
  return both.map((pair) => ({ ...pair, weight: pair.weight.over(differ) }));
}

/** Bayes' rule: each clutch seen made its own draw; `target` of the `looked` hatchlings were of the target. */
function weighed(states: readonly EggState[], seen: Clutches['seen']): EggState[] {
  if (seen.length === 0) return [...states];
  const moved = states.map((state) => ({
    ...state,
    weight: seen.reduce(
      (weight, counts) => weight.times(likelihood(state.draws, counts)),
      state.weight,
    ),
  }));
  const sum = moved.reduce((total, state) => total.plus(state.weight), Fraction.zero);
  if (sum.isZero) {
    const list = seen.map(({ looked, target }) => `${target} of ${looked}`).join(', ');
    throw new FaultsError([
      {
        code: 'IMPOSSIBLE_COUNTS',
        message: `The young seen (${list}) cannot come from these parents.`,
        remedy:
          'Look for another sire, mixed eggs, a misread colour, or lines that are not the same gene.',
        ids: [],
      },
    ]);
  }
  return moved
    .filter(({ weight }) => !weight.isZero)
    .map((state) => ({ ...state, weight: state.weight.over(sum) }));
}

function likelihood(
  draws: readonly EggDraw[],
  { looked, target }: { readonly looked: number; readonly target: number },
): Fraction {
  if (looked === 0) return Fraction.one;
  // The binomial coefficient is the same for all parents and falls out.
  return draws.reduce((sum, { weight, male, female, alive }) => {
    if (alive.isZero) return sum;
    const share = male.plus(female).over(alive);
    const chance = share.power(target).times(share.complement().power(looked - target));
    return sum.plus(weight.times(chance));
  }, Fraction.zero);
}

/** Chance by sex of living young that meet `look`, and that meet `look` and `carrier`, by what the parents may be. */
export function lookAndCarrier(cross: Cross, look: Rule, carrier: Rule) {
  const question = { classes: [[look], [carrier], [cross.lethal]], loci: [] };
  return cross.sires.flatMap(({ probability }, k) =>
    outcomesByParents(cross, question, [k]).map(({ weight, bySire }) => {
      const living = bySire[0].filter(({ classes }) => classes[0] === 0 && classes[2] !== 0);
      const sum = (sexes: readonly Sex[], carriers: boolean): Fraction =>
        living
          .filter(({ sex, classes }) => sexes.includes(sex) && (!carriers || classes[1] === 0))
          .reduce((total, outcome) => total.plus(outcome.probability), Fraction.zero);
      return {
        weight: weight.times(probability),
        look: sum(['m', 'f'], false),
        male: sum(['m'], true),
        female: sum(['f'], true),
      };
    }),
  );
}
