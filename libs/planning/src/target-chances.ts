import { FaultsError, invariant } from '@scutewright/basics';
import {
  type CrossInput,
  type Locus,
  parseGenotype,
  readLoci,
  readTraits,
  type Sex,
  type Trait,
  traitClass,
  transmissionTable,
} from '@scutewright/genetics';

/** Odds of an animal's genotypes: by locus, by genotype text, in [0, 1]; genotypes left out have none. */
export type AnimalOdds = Readonly<Record<string, Readonly<Record<string, number>>>>;

/** Young genotypes over all loci of the trait, together, at most. */
const MOST_GENOTYPES = 100_000;

/**
 * P(a grown young is of the class `target` of `trait`) for every male with every female, at `male * females.length + female`. The odds of the two
 * parents are multiplied, so this is exact for parents that share no evidence at the loci of the trait, and so are loci: none linked, none
 * lethal. For one pairing of related animals use their joint distribution (`crossOdds`).
 * Throws FaultsError `TOO_ENTANGLED` where the trait's loci have more than 100,000 genotypes together, and the faults of `readTraits`.
 * Cost: distinct males x distinct females x genotypes of the young.
 */
export function targetChances(
  definitions: Pick<CrossInput, 'loci' | 'traits'>,
  { trait: traitId, target }: { readonly trait: string; readonly target: string },
  males: readonly AnimalOdds[],
  females: readonly AnimalOdds[],
): Float64Array {
  const byId = readLoci(definitions.loci);
  const trait = readTraits(definitions.traits ?? [], byId).get(traitId);
  invariant(trait, `the trait ${traitId} is among the definitions`);
  const loci = trait.loci.map((id) => byId.get(id)!);
  checkSize(trait, loci);
  const position = trait.classes.indexOf(target);
  // The sex of a young matters only where a locus or the rule asks for it; else both sexes are alike.
  const bySex = trait.bySex || loci.some(({ inheritance }) => inheritance !== 'autosomal');
  const worlds = (bySex ? (['m', 'f'] as const) : [null]).map((sex) => ({
    shows: showing(trait, loci, sex ?? 'm', position),
    tables: loci.map((locus) => transmissionTable(locus, sex)),
  }));
  const sires = distinct(males, loci);
  const dams = distinct(females, loci);
  const chances = new Float64Array(sires.odds.length * dams.odds.length);
  for (const { shows, tables } of worlds) {
    for (const [s, sire] of sires.odds.entries()) {
      const fromSire = tables.map((table, l) => mixedBySire(table, sire[l]));
      for (const [d, dam] of dams.odds.entries()) {
        const young = fromSire.map((rows, l) => mixedByDam(rows, dam[l]));
        chances[s * dams.odds.length + d] += expected(shows, young) / worlds.length;
      }
    }
  }
  const all = new Float64Array(males.length * females.length);
  for (let m = 0; m < males.length; m++) {
    const row = sires.at[m] * dams.odds.length;
    for (let f = 0; f < females.length; f++) {
      all[m * females.length + f] = Math.min(1, chances[row + dams.at[f]]);
    }
  }
  return all;
}

function checkSize(trait: Trait, loci: readonly Locus[]): void {
  const genotypes = loci.reduce((product, locus) => product * locus.genotypes.length, 1);
  if (genotypes <= MOST_GENOTYPES) return;
  throw new FaultsError([
    {
      code: 'TOO_ENTANGLED',
      message: `The loci of the trait '${trait.id}' have ${genotypes} genotypes together.`,
      remedy: 'Split it into several traits.',
      ids: [trait.id],
    },
  ]);
}

/** 1 for each young of the class, over all genotypes: the last locus runs fastest. */
function showing(trait: Trait, loci: readonly Locus[], sex: Sex, position: number): Float64Array {
  const size = loci.reduce((product, locus) => product * locus.genotypes.length, 1);
  return Float64Array.from({ length: size }, (_, at) => {
    const genotypes: Record<string, number> = {};
    let rest = at;
    for (const locus of loci.toReversed()) {
      genotypes[locus.id] = rest % locus.genotypes.length;
      rest = Math.floor(rest / locus.genotypes.length);
    }
    const found = traitClass(trait, { genotypes, sex, ageDays: Number.POSITIVE_INFINITY });
    return found === position ? 1 : 0;
  });
}

/** Animals with the same odds are reckoned once. */
function distinct(animals: readonly AnimalOdds[], loci: readonly Locus[]) {
  const known = new Map<string, number>();
  const odds: Float64Array[][] = [];
  const at = animals.map((animal) => {
    const own = loci.map((locus) => {
      const vector = new Float64Array(locus.genotypes.length);
      for (const [text, chance] of Object.entries(animal[locus.id])) {
        vector[parseGenotype(locus, text) ?? -1] = chance;
      }
      return vector;
    });
    const key = own.map((vector) => vector.join()).join(';');
    const found = known.get(key);
    if (found !== undefined) return found;
    known.set(key, odds.length);
    odds.push(own);
    return odds.length - 1;
  });
  return { odds, at };
}

/** P(young | dam) at `dam * n + young`, over what the sire may be. */
function mixedBySire(table: Float64Array, sire: Float64Array): Float64Array {
  const square = sire.length * sire.length;
  const rows = new Float64Array(square);
  for (let s = 0; s < sire.length; s++) {
    if (sire[s] === 0) continue;
    for (let i = 0; i < square; i++) rows[i] += sire[s] * table[s * square + i];
  }
  return rows;
}

function mixedByDam(rows: Float64Array, dam: Float64Array): Float64Array {
  const n = dam.length;
  const young = new Float64Array(n);
  for (let d = 0; d < n; d++) {
    if (dam[d] === 0) continue;
    for (let y = 0; y < n; y++) young[y] += dam[d] * rows[d * n + y];
  }
  return young;
}

/** The share of young that show: one locus after another is summed out, the last first. */
function expected(shows: Float64Array, young: readonly Float64Array[]): number {
  let left = shows;
  for (let l = young.length - 1; l >= 0; l--) {
    const n = young[l].length;
    const next = new Float64Array(left.length / n);
    for (let at = 0; at < left.length; at++)
      next[Math.floor(at / n)] += left[at] * young[l][at % n];
    left = next;
  }
  return left[0];
}
