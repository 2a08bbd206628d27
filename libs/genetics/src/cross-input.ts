import { type Fault, FaultsError, Fraction } from '@scutewright/basics';
import { parseAlleles } from './genotype.js';
import {
  copiesIn,
  isNearlyOne,
  type Locus,
  type LocusInput,
  readLoci,
  readProbability,
} from './locus.js';
import { any, type Rule, type RuleInput, readRule, subjectsOf, unknownGenotype } from './rule.js';
import { readTraits, type Trait, type TraitInput } from './trait.js';

type Probability = string | number;
/** Genotype by locus, as `N/a`; at linked loci what stands before the slashes lies on one chromosome. */
export type GenotypesInput = Readonly<Record<string, string>>;
/** What one parent may be; probabilities sum to 1. A single record of genotypes stands for certainty. */
export type MixtureInput =
  | readonly { readonly probability: Probability; readonly genotypes: GenotypesInput }[]
  | GenotypesInput;

/**
 * Parents' genotypes, in one of three ways: sire and dam apart (independent of each other), several candidate
 * sires and a dam (all independent), or `parents`: their joint distribution, for parents that are related or share evidence.
 * `genotypes` of a candidate sire is keyed by his id in `sires` of a joint row.
 */
export interface ParentsInput {
  readonly sire?: MixtureInput;
  readonly sires?: readonly {
    readonly id: string;
    readonly probability?: Probability;
    readonly genotypes?: MixtureInput;
  }[];
  readonly dam?: MixtureInput;
  readonly parents?: readonly {
    readonly probability: Probability;
    readonly sire?: GenotypesInput;
    readonly sires?: Readonly<Record<string, GenotypesInput>>;
    readonly dam: GenotypesInput;
  }[];
}

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

/** Alleles of one animal at one locus, in the order written. */
export type Alleles = readonly [number, number] | readonly [number];

/** Loci that are handed on together: one, or two linked with recombination fraction `r`. */
export interface Unit {
  readonly loci: readonly Locus[];
  readonly r: Fraction;
}

/** One possible set of parents: alleles by locus id; the sires in the order of `Cross.sires`. */
export interface ParentState {
  readonly weight: Fraction;
  readonly dam: ReadonlyMap<string, Alleles>;
  readonly sires: readonly ReadonlyMap<string, Alleles>[];
}

export interface MixtureState {
  readonly weight: Fraction;
  readonly alleles: ReadonlyMap<string, Alleles>;
}

/** Parents at a set of loci that is independent of the other sets. */
export type Block =
  | {
      readonly kind: 'joint';
      readonly states: readonly ParentState[];
      readonly units: readonly Unit[];
    }
  | {
      readonly kind: 'apart';
      readonly dam: readonly MixtureState[];
      readonly sires: readonly (readonly MixtureState[])[];
      readonly units: readonly Unit[];
    };

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

/** Reads a probability; on a fault adds it and answers 0. */
export function probability(text: Probability, what: string, faults: Fault[]): Fraction {
  const value = readProbability(text);
  if (value) return value;
  faults.push({
    code: 'BAD_PROBABILITY',
    message: `${what} is '${text}', which is not between 0 and 1.`,
    remedy: 'Write a number such as 0.25 or 1/4.',
    ids: [],
  });
  return Fraction.zero;
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

/** Reads mixtures of genotypes at the loci they name. */
class ParentsReader {
  constructor(
    private readonly loci: ReadonlyMap<string, Locus>,
    private readonly units: readonly Unit[],
    private readonly sires: readonly { readonly id: string }[],
    private readonly faults: Fault[],
  ) {}

  readBlock(input: ParentsInput): Block {
    return input.parents ? this.readJoint(input.parents) : this.readApart(input);
  }

  private readJoint(rows: NonNullable<ParentsInput['parents']>): Block {
    const weights = this.weights(rows, 'The parents');
    const units = this.unitsNamed(
      rows.flatMap((row) => [row.dam, row.sire ?? {}, ...Object.values(row.sires ?? {})]),
    );
    const states = rows.map((row, i) => ({
      weight: weights[i],
      dam: this.alleles(row.dam, 'dam', units),
      sires: this.sires.map(({ id }) => {
        const genotypes = row.sires ? row.sires[id] : row.sire;
        return this.alleles(genotypes ?? {}, id, units);
      }),
    }));
    return { kind: 'joint', states, units };
  }

  private readApart(input: ParentsInput): Block {
    const mixtures = this.sires.map(({ id }) =>
      input.sires ? input.sires.find((sire) => sire.id === id)?.genotypes : input.sire,
    );
    const dam = input.dam;
    const units = this.unitsNamed([dam, ...mixtures].flatMap(genotypesIn));
    if (!dam || mixtures.some((mixture) => mixture === undefined)) {
      this.faults.push({
        code: 'BAD_PARENTS',
        message: dam ? 'A sire has no genotypes.' : 'The dam has no genotypes.',
        remedy: 'Say for each parent which genotypes are possible, with their probabilities.',
        ids: [],
      });
      return { kind: 'apart', dam: [], sires: [], units };
    }
    return {
      kind: 'apart',
      dam: this.mixture(dam, 'dam', units),
      sires: mixtures.map((mixture, k) => this.mixture(mixture!, this.sires[k].id, units)),
      units,
    };
  }

  private mixture(input: MixtureInput, parent: string, units: readonly Unit[]): MixtureState[] {
    if (!isRows(input)) {
      return [{ weight: Fraction.one, alleles: this.alleles(input, parent, units) }];
    }
    const weights = this.weights(input, `The ${parent}`);
    return input.map((row, i) => ({
      weight: weights[i],
      alleles: this.alleles(row.genotypes, parent, units),
    }));
  }

  private weights(rows: readonly { readonly probability: Probability }[], who: string): Fraction[] {
    const weights = rows.map((row) =>
      probability(row.probability, `A probability of ${who.toLowerCase()}`, this.faults),
    );
    const sum = weights.reduce((total, weight) => total.plus(weight), Fraction.zero);
    if (isNearlyOne(sum)) return weights.map((weight) => weight.over(sum));
    this.faults.push({
      code: 'BAD_PROBABILITY',
      message: `${who}: the possibilities add to ${sum.toNumber()}.`,
      remedy: 'Let their probabilities add to 1.',
      ids: [],
    });
    return weights;
  }

  /** The units of which any of the genotypes names a locus. */
  private unitsNamed(genotypes: readonly GenotypesInput[]): readonly Unit[] {
    const named = new Set(genotypes.flatMap((record) => Object.keys(record)));
    for (const id of named) {
      if (this.loci.has(id)) continue;
      this.faults.push({
        code: 'UNKNOWN_LOCUS',
        message: `A parent has a genotype at the locus '${id}', which is not defined.`,
        remedy: `The loci are ${[...this.loci.keys()].join(', ')}.`,
        ids: [id],
      });
    }
    return this.units.filter((unit) => unit.loci.some((locus) => named.has(locus.id)));
  }

  private alleles(
    genotypes: GenotypesInput,
    parent: string,
    units: readonly Unit[],
  ): ReadonlyMap<string, Alleles> {
    const found = new Map<string, Alleles>();
    const sex = parent === 'dam' ? 'f' : 'm';
    for (const unit of units) {
      for (const locus of unit.loci) {
        const text = genotypes[locus.id];
        const alleles = text === undefined ? null : parseAlleles(locus, text);
        if (alleles && alleles.length === copiesIn(locus, sex)) {
          const ordered = unit.loci.length === 1 ? alleles.sort((a, b) => a - b) : alleles;
          found.set(locus.id, ordered);
        } else this.addGenotypeFault(locus, text, alleles !== null, parent);
      }
    }
    return found;
  }

  private addGenotypeFault(
    locus: Locus,
    text: string | undefined,
    isRead: boolean,
    parent: string,
  ): void {
    if (text !== undefined && !isRead) {
      this.faults.push(unknownGenotype(locus, text, `The parent '${parent}'`));
      return;
    }
    const copies = copiesIn(locus, parent === 'dam' ? 'f' : 'm');
    this.faults.push(
      text === undefined
        ? {
            code: 'MISSING_GENOTYPE',
            message: `The parent '${parent}' has no genotype at the locus '${locus.id}'.`,
            remedy: 'Give one at every locus, or a mixture where it is not known.',
            ids: [locus.id],
          }
        : {
            code: 'WRONG_COPIES',
            message: `'${text}' does not fit the parent '${parent}' at the ${locus.inheritance} locus '${locus.id}'.`,
            remedy: `This parent has ${copies === 1 ? 'one allele' : 'two alleles'} here.`,
            ids: [locus.id],
          },
    );
  }

  checkEachLocusOnce(blocks: readonly Block[]): void {
    const seen = new Set<Unit>();
    for (const unit of blocks.flatMap((block) => block.units)) {
      if (seen.has(unit)) {
        const names = unit.loci.map((locus) => locus.id);
        this.faults.push({
          code: 'BAD_PARENTS',
          message: `The parents' genotypes at ${names.join(', ')} are given in two places.`,
          remedy: 'Give each locus in one independent set, linked loci in the same.',
          ids: names,
        });
      }
      seen.add(unit);
    }
  }
}

function isRows(
  input: MixtureInput,
): input is readonly { readonly probability: Probability; readonly genotypes: GenotypesInput }[] {
  return Array.isArray(input);
}

function genotypesIn(input: MixtureInput | undefined): readonly GenotypesInput[] {
  if (!input) return [];
  return isRows(input) ? input.map((row) => row.genotypes) : [input];
}
