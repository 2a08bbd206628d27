/**
 * The baseline of the genetics benchmark, sharing no code with the library: lists every pair of parents' genotypes and
 * every pair of gametes over all loci at once, two alleles a locus (0 normal, 1 recessive), in doubles.
 */
export function naiveAllNormal(
  parents: readonly { readonly sire: readonly number[]; readonly dam: readonly number[] }[],
): { readonly normal: number; readonly listed: number } {
  // `sire[g]`: chance of g recessive alleles at that locus.
  const loci = parents.length;
  let normal = 0;
  let listed = 0;
  const sire = new Array<number>(loci);
  const dam = new Array<number>(loci);
  const overParents = (locus: number, weight: number): void => {
    if (weight === 0) return;
    if (locus === loci) {
      normal += weight * overGametes();
      return;
    }
    for (sire[locus] = 0; sire[locus] < 3; sire[locus]++) {
      for (dam[locus] = 0; dam[locus] < 3; dam[locus]++) {
        const own = parents[locus];
        overParents(locus + 1, weight * own.sire[sire[locus]] * own.dam[dam[locus]]);
      }
    }
  };
  const overGametes = (): number => {
    const gametes = 2 ** loci;
    let share = 0;
    for (let a = 0; a < gametes; a++) {
      for (let b = 0; b < gametes; b++) {
        listed++;
        let shows = false;
        for (let locus = 0; locus < loci; locus++) {
          // The first chromosome carries the recessive allele from one copy on, the second from two.
          const fromSire = (a >> locus) & 1 ? sire[locus] === 2 : sire[locus] >= 1;
          const fromDam = (b >> locus) & 1 ? dam[locus] === 2 : dam[locus] >= 1;
          shows ||= fromSire && fromDam;
        }
        if (!shows) share += 1;
      }
    }
    return share / (gametes * gametes);
  };
  overParents(0, 1);
  return { normal, listed };
}
