import { type Fault, FaultsError, Fraction } from '@scutewright/basics';
import { type Locus, type LocusInput, readLoci } from './locus.js';
import { type Block, type ParentsInput, ParentsReader } from './parents-input.js';
import { isNearlyOne, type Probability, probability } from './probability.js';
import { any, type Rule, type RuleInput, readRule, subjectsOf } from './rule.js';
import { readTraits, type Trait, type TraitInput } from './trait.js';
import type { Unit } from './unit-young.js';

/** A pairing and the definitions it is read by. Probabilities are numbers or texts such as `2/3`. */
export interface CrossInput extends ParentsInput {
  readonly loci: readonly LocusInput[];
  readonly traits?: readonly TraitInput[];
  /** Pairs of linked loci with their recombination fraction (0 to 1/2); all others segregate freely. */
  readonly linkage?: readonly { readonly loci: readonly string[]; readonly r: Probability }[];
  /** Young of these genotypes die before hatching. */
  readonly lethal?: readonly RuleInput[];
  /** Young of these genotypes hatch but are harmed; they are counted, with the name of the harm. */
  readonly harmful?: readonly { readonly name: string; readonly when: RuleInput }[];
  /**
   * Instead of one set of parents over all loci: sets of loci that are independent of each other, each with its
   * own mixtures, so that eight uncertain loci need not be multiplied out. `sires` on top then holds the ids and probabilities only.
   */
  readonly independent?: readonly ParentsInput[];
  /** Share of males among young; 1/2 by default. Not with a sex-linked locus (there it is 1/2). */
  readonly maleShare?: Probability;
  /** Age at which the young are looked at, in days; fully grown by default. */
  readonly ageDays?: number;
}

export interface Cross {
  readonly loci: ReadonlyMap<string, Locus>;
  readonly traits: ReadonlyMap<string, Trait>;
  readonly lethal: Rule;
  readonly harmful: readonly { readonly name: string; readonly rule: Rule }[];
  readonly blocks: readonly Block[];
  readonly sires: readonly { readonly id: string; readonly probability: Fraction }[];
  readonly maleShare: Fraction;
  readonly ageDays: number;
}

/**
 * Checks a pairing. Throws one FaultsError with every fault: those of loci and traits first, then
 * `UNKNOWN_LOCUS`, `UNKNOWN_GENOTYPE`, `MISSING_GENOTYPE`, `WRONG_COPIES`, `BAD_PROBABILITY`, `BAD_LINKAGE`, `BAD_PARENTS`.
 */
export function readCross(input: CrossInput): Cross {
  const loci = readLoci(input.loci);
  const traits = readTraits(input.traits ?? [], loci);
  const faults: Fault[] = [];
  const lethal = any(
    (input.lethal ?? []).map((rule) => readRule(rule, loci, 'A lethal rule', faults)),
  );
  const harmful = (input.harmful ?? []).map(({ name, when }) => ({
    name,
    rule: readRule(when, loci, `The harm '${name}'`, faults),
  }));
  const units = readUnits(input, loci, faults);
  const sires = readSires(input, faults);
  const reader = new ParentsReader(loci, units, sires, faults);
  const blocks = (input.independent ?? [input]).map((parents) => reader.readBlock(parents));
  if (input.independent) reader.checkEachLocusOnce(blocks);
  checkRulesGiven([lethal, ...harmful.map(({ rule }) => rule)], blocks, faults);
  const maleShare = readShare(input, loci, faults);
  if (faults.length > 0) throw new FaultsError(faults);
  return {
    loci,
    traits,
    lethal,
    harmful,
    blocks,
    sires,
    maleShare,
    ageDays: input.ageDays ?? Number.POSITIVE_INFINITY,
  };
}

/** Lethal and harmful rules decide about every young, so the parents must be given where they look. */
function checkRulesGiven(rules: readonly Rule[], blocks: readonly Block[], faults: Fault[]): void {
  const given = blocks.flatMap((block) => block.units.flatMap((unit) => unit.loci));
  for (const id of subjectsOf(rules).loci) {
    if (given.some((locus) => locus.id === id)) continue;
    faults.push({
      code: 'MISSING_GENOTYPE',
      message: `A lethal or harmful rule looks at the locus '${id}', where no parent has a genotype.`,
      remedy: 'Give the parents at this locus, or leave the rule out.',
      ids: [id],
    });
  }
}

function readShare(input: CrossInput, loci: ReadonlyMap<string, Locus>, faults: Fault[]): Fraction {
  if (input.maleShare === undefined) return Fraction.half;
  const sexLinked = [...loci.values()].find((locus) => locus.inheritance !== 'autosomal');
  if (sexLinked) {
    faults.push({
      code: 'BAD_PROBABILITY',
      message: `The locus '${sexLinked.id}' lies on a sex chromosome, so the share of males cannot be set.`,
      remedy: 'Leave the share of males out, or make the locus autosomal.',
      ids: [sexLinked.id],
    });
  }
  return probability(input.maleShare, 'The share of males', faults);
}

function readUnits(
  input: CrossInput,
  loci: ReadonlyMap<string, Locus>,
  faults: Fault[],
): readonly Unit[] {
  const linked = new Map<string, Unit>();
  for (const { loci: ids, r } of input.linkage ?? []) {
    const pair = ids.map((id) => loci.get(id));
    const fraction = probability(r, `The recombination between ${ids.join(' and ')}`, faults);
    const [first, second] = pair;
    const wrong =
      pair.length !== 2 || !first || !second || first === second
        ? 'A link joins two different loci that are defined.'
        : first.inheritance !== second.inheritance
          ? 'Linked loci lie on the same chromosome, so they have the same inheritance.'
          : linked.has(first.id) || linked.has(second.id)
            ? 'A locus can be linked to one other only.'
            : fraction.compare(Fraction.half) > 0
              ? 'A recombination fraction is at most 1/2.'
              : null;
    if (wrong !== null) {
      const named = ids.join(' - ');
      faults.push({
        code: 'BAD_LINKAGE',
        message: `The link ${named} cannot be used.`,
        remedy: wrong,
        ids,
      });
      continue;
    }
    const unit = { loci: [first!, second!], r: fraction };
    linked.set(first!.id, unit).set(second!.id, unit);
  }
  const alone = (locus: Locus): Unit => ({ loci: [locus], r: Fraction.half });
  return [...new Set([...loci.values()].map((locus) => linked.get(locus.id) ?? alone(locus)))];
}

function readSires(
  input: CrossInput,
  faults: Fault[],
): readonly { readonly id: string; readonly probability: Fraction }[] {
  if (!input.sires) return [{ id: 'sire', probability: Fraction.one }];
  const sires = input.sires.map((sire) => ({
    id: sire.id,
    probability: probability(sire.probability ?? 'missing', `The weight of ${sire.id}`, faults),
  }));
  const sum = sires.reduce((total, sire) => total.plus(sire.probability), Fraction.zero);
  if (new Set(sires.map((sire) => sire.id)).size < sires.length || !isNearlyOne(sum)) {
    faults.push({
      code: 'BAD_PARENTS',
      message: `The candidate sires add to ${sum.toNumber()}, or one is named twice.`,
      remedy:
        'Name each once and let them add to 1; a male nobody recorded is a candidate with his own odds.',
      ids: sires.map((sire) => sire.id),
    });
    return sires;
  }
  return sires.map((sire) => ({ id: sire.id, probability: sire.probability.over(sum) }));
}
