import { Fraction, invariant } from '@scutewright/basics';
import {
  type CrossInput,
  crossOdds,
  parseGenotype,
  readLoci,
  readTraits,
  traitClass,
} from '@scutewright/genetics';
import type { ParentRow } from './joint-parents-task.js';

export type Definitions = Pick<CrossInput, 'loci'> & Required<Pick<CrossInput, 'traits'>>;

/** What the two parents may be together, by lists of rows that are independent of each other; probabilities as exact texts. */
export interface Parents {
  readonly independent: readonly {
    readonly parents: readonly (Omit<ParentRow, 'probability'> & {
      readonly probability: string;
    })[];
  }[];
  readonly linkage: NonNullable<CrossInput['linkage']>;
}

/** SHOWS: the trait. OTHER: another trait of the same genes. CARRIES: plain, with a copy. CLEAR: plain, without. */
export type LookKind = 'SHOWS' | 'OTHER' | 'CARRIES' | 'CLEAR';

/** The young of one look. */
export interface Look {
  readonly kind: LookKind;
  /** The trait that shows, where one does. */
  readonly trait: string | null;
  readonly share: Fraction;
  /** Of twenty; those of all looks add to twenty. */
  readonly eggs: number;
}

/** The looks of the young where the parents' combination is one of several. */
export interface LookCase {
  readonly weight: Fraction;
  readonly looks: readonly Look[];
  /** Copies of rarer alleles that the parents have in this case; empty for a trait of several loci. */
  readonly copies: readonly { readonly sire: number; readonly dam: number }[];
}

const ORDER: readonly LookKind[] = ['SHOWS', 'OTHER', 'CARRIES', 'CLEAR'];
/** More combinations of the parents than this are not told apart: nobody would read them. */
const MOST_COMBINATIONS = 400;

/**
 * Looks of the young of one trait: which show it, which carry it unseen, which are clear of it. A look of share 0 is left
 * out; the shares add to 1. Cost: one cross over the loci of the trait.
 */
export function looksOfYoung(definitions: Definitions, trait: string, parents: Parents): Look[] {
  const loci = readLoci(definitions.loci);
  const traits = readTraits(definitions.traits, loci);
  const own = traits.get(trait);
  invariant(own, `the trait ${trait} is among the definitions`);
  const odds = crossOdds({
    ...definitionsOfTrait(definitions, trait, own.loci),
    ...parents,
    joint: [{ loci: own.loci, among: { trait, class: 'not shown' } }],
  });
  const { shown } = odds.traits[trait].classes;
  const found = new Map([[key('SHOWS', trait), shown]]);
  const plain = shown.complement();
  // What the eye would call by another name is not 'unseen'.
  const others = [...traits.values()].filter(
    ({ id, bySex, loci: theirs }) =>
      id !== trait && !bySex && theirs.every((locus) => own.loci.includes(locus)),
  );
  for (const [text, chance] of Object.entries(odds.joint[0])) {
    const texts = text.split(' ');
    const genotypes = Object.fromEntries(
      own.loci.map((id, i) => [id, parseGenotype(loci.get(id)!, texts[i]) ?? -1]),
    );
    const seen = others.find(
      (other) =>
        traitClass(other, { genotypes, sex: null, ageDays: Number.POSITIVE_INFINITY }) === 0,
    );
    const carries = own.loci.some((id, i) => copiesOf(loci.get(id)!.alleles[0], texts[i]) > 0);
    const at = seen ? key('OTHER', seen.id) : key(carries ? 'CARRIES' : 'CLEAR', null);
    found.set(at, (found.get(at) ?? Fraction.zero).plus(chance.times(plain)));
  }
  return withEggs(
    [...found]
      .filter(([, share]) => !share.isZero)
      .map(([at, share]) => ({ ...(JSON.parse(at) as Pick<Look, 'kind' | 'trait'>), share })),
  );
}

const key = (kind: LookKind, trait: string | null) => JSON.stringify({ kind, trait });

/** The looks by what the parents are together, equal chances of the trait as one case, likeliest case first; empty beyond 400 combinations. */
export function lookCases(
  definitions: Definitions,
  trait: string,
  { independent, linkage }: Parents,
): LookCase[] {
  const loci = readLoci(definitions.loci);
  const own = readTraits(definitions.traits, loci).get(trait);
  invariant(own, `the trait ${trait} is among the definitions`);
  const combinations = independent.reduce((product, { parents }) => product * parents.length, 1);
  if (combinations > MOST_COMBINATIONS) return [];
  let rows: { weight: Fraction; parents: Parents }[] = [
    { weight: Fraction.one, parents: { independent: [], linkage } },
  ];
  for (const { parents: list } of independent) {
    rows = rows.flatMap((row) =>
      list.map((at) => ({
        weight: row.weight.times(Fraction.parse(at.probability)),
        parents: {
          independent: [...row.parents.independent, { parents: [{ ...at, probability: '1' }] }],
          linkage,
        },
      })),
    );
  }
  const cases = new Map<
    string,
    { weight: Fraction; rows: typeof rows; shares: Map<string, Fraction> }
  >();
  for (const row of rows) {
    const looks = looksOfYoung(definitions, trait, row.parents);
    const shown = looks.find(({ kind }) => kind === 'SHOWS')?.share ?? Fraction.zero;
    const at = shown.toString();
    const known = cases.get(at) ?? { weight: Fraction.zero, rows: [], shares: new Map() };
    for (const { kind, trait: seen, share } of looks) {
      const look = key(kind, seen);
      known.shares.set(
        look,
        (known.shares.get(look) ?? Fraction.zero).plus(share.times(row.weight)),
      );
    }
    cases.set(at, { ...known, weight: known.weight.plus(row.weight), rows: [...known.rows, row] });
  }
  return [...cases.values()]
    .sort((a, b) => b.weight.compare(a.weight))
    .map(({ weight, rows: theirs, shares }) => ({
      weight,
      looks: withEggs(
        [...shares].map(([at, share]) => ({
          ...(JSON.parse(at) as Pick<Look, 'kind' | 'trait'>),
          share: share.over(weight),
        })),
      ),
      copies:
        own.loci.length === 1
          ? theirs.map(({ parents: at }) => copiesOfParents(at, own.loci[0], loci))
          : [],
    }));
}

function copiesOfParents({ independent }: Parents, id: string, loci: ReturnType<typeof readLoci>) {
  const [row] = independent[0].parents;
  const common = loci.get(id)!.alleles[0];
  return { sire: copiesOf(common, row.sire[id]), dam: copiesOf(common, row.dam[id]) };
}

const copiesOf = (common: string, genotype: string) =>
  genotype.split('/').filter((allele) => allele !== common).length;

/** A trait by itself, with the genes of its rule. */
export function definitionsOfTrait(
  { loci, traits }: Definitions,
  trait: string,
  own: readonly string[],
): Definitions {
  return {
    loci: loci.filter(({ id }) => own.includes(id)),
    traits: traits.filter(({ id }) => id === trait),
  };
}

/** Twenty eggs shared out by the largest remainder (Hamilton's method), ties to the earlier look. */
function withEggs(looks: readonly Omit<Look, 'eggs'>[]): Look[] {
  const sorted = [...looks].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
  const exact = sorted.map(({ share }) => share.times(Fraction.of(20)));
  const eggs = exact.map((each) => Number(each.numerator / each.denominator));
  const rests = exact.map((each, i) => each.minus(Fraction.of(eggs[i])));
  const left = 20 - eggs.reduce((sum, n) => sum + n, 0);
  const order = [...rests.keys()].sort((a, b) => rests[b].compare(rests[a]) || a - b);
  for (const at of order.slice(0, left)) eggs[at]++;
  return sorted.map((look, i) => ({ ...look, eggs: eggs[i] }));
}
