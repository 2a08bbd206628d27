import { FaultsError, Fraction } from '@scutewright/basics';
import { type Cross, type CrossInput, readCross } from './cross-input.js';
import type { Sex } from './locus.js';
import { type Outcome, type Question, youngOutcomes } from './young-outcomes.js';

/** Probability by name. */
export type Chances = Readonly<Record<string, Fraction>>;

export interface CrossOddsInput extends CrossInput {
  /** Sets of loci whose genotypes are wanted together, perhaps only among young of one class of a trait. */
  readonly joint?: readonly {
    readonly loci: readonly string[];
    readonly among?: { readonly trait: string; readonly class: string };
  }[];
}

export interface TraitOdds {
  /** Every class of the trait, among hatchlings; they add to 1. */
  readonly classes: Chances;
  /** Class and sex together, among hatchlings; both sexes add to 1. */
  readonly bySex: Readonly<Record<Sex, Chances>>;
  /** Among hatchlings of a class: genotypes at each locus of the trait. Classes that cannot occur are absent. */
  readonly within: Readonly<Record<string, Readonly<Record<string, Chances>>>>;
}

export interface CrossOdds {
  /** Share of fertile eggs lost to lethal genotypes. All other odds but `eggs` are given not lost. */
  readonly loss: Fraction;
  /** Share of hatchlings with each harm. */
  readonly harmful: Chances;
  /** Genotypes by locus among fertile eggs, before the loss; those that cannot occur are absent. */
  readonly eggs: Readonly<Record<string, Chances>>;
  /** Genotypes by locus among hatchlings. */
  readonly hatchlings: Readonly<Record<string, Chances>>;
  readonly traits: Readonly<Record<string, TraitOdds>>;
  /**
   * What hatchlings look like by all traits together, likeliest first; null when there are more than
   * 4,096 combinations of classes.
   */
  readonly looks: readonly Look[] | null;
  /** The answers to `joint`, in its order: genotypes joined by blanks, `A/a B/b`. Empty where the class cannot occur. */
  readonly joint: readonly Chances[];
}

export interface Look {
  /** Class by trait. */
  readonly classes: Readonly<Record<string, string>>;
  readonly probability: Fraction;
}

const MOST_LOOKS = 4096;

/**
 * What the young of a pairing can be, as exact fractions: mixtures over the parents' joint distribution where they
 * are uncertain. These are odds for *one* egg or hatchling; a clutch shares its parents (`clutchOdds`). When every egg is lost, the
 * odds of hatchlings are empty. Throws FaultsError with every fault of the input.
 * Cost: by locus and distinct parents, not by their product.
 */
export function crossOdds(input: CrossOddsInput): CrossOdds {
  const cross = readCross(input);
  checkJoint(input, cross);
  const alive = new Hatchlings(cross);
  const loci = [...cross.loci.keys()].filter((id) => isGiven(cross, id));
  const traits = [...cross.traits.values()].filter((trait) =>
    trait.loci.every((id) => isGiven(cross, id)),
  );
  return {
    loss: alive.loss,
    harmful: Object.fromEntries(
      cross.harmful.map(({ name, rule }) => [
        name,
        total(alive.ask([[rule]], []).filter((outcome) => outcome.classes[0] === 0)),
      ]),
    ),
    eggs: byLocus(loci, (id) =>
      genotypeChances(cross, [id], youngOutcomes(cross, { classes: [], loci: [id] })),
    ),
    hatchlings: byLocus(loci, (id) => genotypeChances(cross, [id], alive.ask([], [id]))),
    traits: Object.fromEntries(
      traits.map((trait) => [trait.id, traitOdds(cross, alive, trait.id)]),
    ),
    looks: looks(
      cross,
      alive,
      traits.map((trait) => trait.id),
    ),
    joint: (input.joint ?? []).map(({ loci: asked, among }) =>
      jointChances(cross, alive, asked, among),
    ),
  };
}

/** Answers among those eggs that are not lost to a lethal genotype. */
class Hatchlings {
  readonly loss: Fraction;

  constructor(private readonly cross: Cross) {
    const dead = youngOutcomes(cross, { classes: [[cross.lethal]], loci: [] });
    this.loss = total(dead.filter((outcome) => outcome.classes[0] === 0));
  }

  ask(classes: Question['classes'], loci: readonly string[]): Outcome[] {
    if (this.loss.equals(Fraction.one)) return [];
    const kept = this.loss.complement();
    return youngOutcomes(this.cross, { classes: [...classes, [this.cross.lethal]], loci })
      .filter((outcome) => outcome.classes.at(-1) !== 0)
      .map((outcome) => ({ ...outcome, probability: outcome.probability.over(kept) }));
  }
}

function traitOdds(cross: Cross, alive: Hatchlings, id: string): TraitOdds {
  const trait = cross.traits.get(id)!;
  const outcomes = alive.ask([trait.rules], []);
  const classesOf = (list: readonly Outcome[]): Chances =>
    Object.fromEntries(
      trait.classes.map((name, position) => [
        name,
        total(list.filter((outcome) => outcome.classes[0] === position)),
      ]),
    );
  const within = new Map<string, Record<string, Chances>>();
  for (const locus of trait.loci) {
    const found = alive.ask([trait.rules], [locus]);
    for (const [position, name] of trait.classes.entries()) {
      const inClass = found.filter((outcome) => outcome.classes[0] === position);
      if (inClass.length === 0) continue;
      const chances = genotypeChances(cross, [locus], given(inClass));
      within.set(name, { ...within.get(name), [locus]: chances });
    }
  }
  return {
    classes: classesOf(outcomes),
    bySex: {
      m: classesOf(outcomes.filter((outcome) => outcome.sex === 'm')),
      f: classesOf(outcomes.filter((outcome) => outcome.sex === 'f')),
    },
    within: Object.fromEntries(within),
  };
}

function looks(cross: Cross, alive: Hatchlings, ids: readonly string[]): readonly Look[] | null {
  const traits = ids.map((id) => cross.traits.get(id)!);
  if (traits.reduce((product, trait) => product * trait.classes.length, 1) > MOST_LOOKS)
    return null;
  const found = new Map<string, Look>();
  for (const outcome of alive.ask(
    traits.map((trait) => trait.rules),
    [],
  )) {
    const key = outcome.classes.join();
    const known = found.get(key)?.probability ?? Fraction.zero;
    const classes = traits.map((trait, i) => [trait.id, trait.classes[outcome.classes[i]]]);
    found.set(key, {
      classes: Object.fromEntries(classes),
      probability: known.plus(outcome.probability),
    });
  }
  return [...found.values()].sort((a, b) => b.probability.compare(a.probability));
}

function jointChances(
  cross: Cross,
  alive: Hatchlings,
  loci: readonly string[],
  among: { readonly trait: string; readonly class: string } | undefined,
): Chances {
  if (!among) return genotypeChances(cross, loci, alive.ask([], loci));
  const trait = cross.traits.get(among.trait)!;
  const wanted = trait.classes.indexOf(among.class);
  const found = alive.ask([trait.rules], loci).filter((outcome) => outcome.classes[0] === wanted);
  return found.length === 0 ? {} : genotypeChances(cross, loci, given(found));
}

function checkJoint(input: CrossOddsInput, cross: Cross): void {
  const unknown = (input.joint ?? []).flatMap(({ loci, among }) => [
    ...loci.filter((id) => !isGiven(cross, id)).map((id) => `the locus '${id}'`),
    ...(among && !cross.traits.get(among.trait)?.classes.includes(among.class)
      ? [`the class '${among.class}' of the trait '${among.trait}'`]
      : []),
  ]);
  if (unknown.length === 0) return;
  throw new FaultsError(
    unknown.map((thing) => ({
      code: 'UNKNOWN_QUESTION',
      message: `The question speaks of ${thing}, which this pairing does not have.`,
      remedy: 'Ask only what is defined and given for the parents.',
      ids: [],
    })),
  );
}

/** Whether the parents' genotypes are given at the locus. */
function isGiven(cross: Cross, locus: string): boolean {
  return cross.blocks.some((block) =>
    block.units.some((unit) => unit.loci.some((member) => member.id === locus)),
  );
}

function byLocus(
  loci: readonly string[],
  answer: (id: string) => Chances,
): Readonly<Record<string, Chances>> {
  return Object.fromEntries(loci.map((id) => [id, answer(id)]));
}

function genotypeChances(
  cross: Cross,
  loci: readonly string[],
  outcomes: readonly Outcome[],
): Chances {
  const chances: Record<string, Fraction> = {};
  for (const { genotypes, probability } of outcomes) {
    const text = loci.map((id, i) => cross.loci.get(id)!.genotypes[genotypes[i]].text).join(' ');
    chances[text] = (chances[text] ?? Fraction.zero).plus(probability);
  }
  return chances;
}

function given(outcomes: readonly Outcome[]): Outcome[] {
  const sum = total(outcomes);
  return outcomes.map((outcome) => ({ ...outcome, probability: outcome.probability.over(sum) }));
}

function total(outcomes: readonly Outcome[]): Fraction {
  return outcomes.reduce((sum, outcome) => sum.plus(outcome.probability), Fraction.zero);
}
