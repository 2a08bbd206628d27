import { type Fault, Fraction } from '@scutewright/basics';
import { copiesIn, parseAlleles } from './genotype.js';
import type { Locus, Sex } from './locus.js';
import { isNearlyOne, type Probability, probability } from './probability.js';
import { unknownGenotype } from './rule.js';
import type { Alleles, Unit } from './unit-young.js';

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

interface Parent {
  readonly name: string;
  readonly sex: Sex;
}
const DAM: Parent = { name: 'dam', sex: 'f' };

/** Reads mixtures of genotypes at the loci they name. */
export class ParentsReader {
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
      dam: this.alleles(row.dam, DAM, units),
      sires: this.sires.map(({ id }) => {
        const genotypes = row.sires ? row.sires[id] : row.sire;
        return this.alleles(genotypes ?? {}, { name: id, sex: 'm' }, units);
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
      dam: this.mixture(dam, DAM, units),
      sires: mixtures.map((mixture, k) =>
        this.mixture(mixture!, { name: this.sires[k].id, sex: 'm' }, units),
      ),
      units,
    };
  }

  private mixture(input: MixtureInput, parent: Parent, units: readonly Unit[]): MixtureState[] {
    if (!isRows(input)) {
      return [{ weight: Fraction.one, alleles: this.alleles(input, parent, units) }];
    }
    const weights = this.weights(input, `The parent '${parent.name}'`);
    return input.map((row, i) => ({
      weight: weights[i],
      alleles: this.alleles(row.genotypes, parent, units),
    }));
  }

  private weights(rows: readonly { readonly probability: Probability }[], who: string): Fraction[] {
    const weights = rows.map((row) =>
      probability(row.probability, `${who}: a probability`, this.faults),
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
    parent: Parent,
    units: readonly Unit[],
  ): ReadonlyMap<string, Alleles> {
    const found = new Map<string, Alleles>();
    for (const unit of units) {
      for (const locus of unit.loci) {
        const text = genotypes[locus.id];
        const alleles = text === undefined ? null : parseAlleles(locus, text);
        if (alleles && alleles.length === copiesIn(locus, parent.sex)) {
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
    parent: Parent,
  ): void {
    if (text !== undefined && !isRead) {
      this.faults.push(unknownGenotype(locus, text, `The parent '${parent.name}'`));
      return;
    }
    const copies = copiesIn(locus, parent.sex);
    this.faults.push(
      text === undefined
        ? {
            code: 'MISSING_GENOTYPE',
            message: `The parent '${parent.name}' has no genotype at the locus '${locus.id}'.`,
            remedy: 'Give one at every locus, or a mixture where it is not known.',
            ids: [locus.id],
          }
        : {
            code: 'WRONG_COPIES',
            message: `'${text}' does not fit the parent '${parent.name}' at the ${locus.inheritance} locus '${locus.id}'.`,
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
