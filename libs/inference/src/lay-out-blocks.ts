import { type Fault, FaultsError } from '@scutewright/basics';
import type { Locus } from '@scutewright/genetics';
import { Block, type BlockDefinition } from './block.js';
import type { Program } from './program.js';

/** Haplotypes of linked loci at most: 16 make 136 states an animal. */
const MOST_HAPLOTYPES = 16;

/**
 * The blocks of loci that are inherited apart. `oneGene[i]` says whether the i-th allelism hypothesis is taken
 * as true: its two loci then are one gene whose mutants are alleles. Throws a FaultsError (`TOO_MANY_LINKED`,
 * `LINKAGE_NOT_A_LINE`, `ALLELISM_TOGETHER`, `NO_FREQUENCIES`).
 */
export function layOutBlocks(program: Program, oneGene: readonly boolean[]): Block[] {
  const faults: Fault[] = [];
  const taken = new Set<number>();
  const definitions: BlockDefinition[] = [];
  for (const [index, { first, second }] of program.allelism.entries()) {
    if (!oneGene[index]) continue;
    const tied = [first, second].find(
      (locus) =>
        taken.has(locus) || program.linkage.some((l) => l.first === locus || l.second === locus),
    );
    if (tied !== undefined) {
      faults.push({
        code: 'ALLELISM_TOGETHER',
        message: `The locus '${program.loci[tied].id}' is in two allelism hypotheses, or in one and linked as well.`,
        remedy: 'Keep one of them.',
        ids: [program.loci[tied].id],
      });
      continue;
    }
    taken.add(first).add(second);
    definitions.push(oneGeneOf(first, second, program.loci, faults));
  }
  for (const group of linkedGroups(program)) {
    if (group.some((locus) => taken.has(locus))) continue;
    definitions.push(linkedBlock(group, program, faults));
  }
  if (faults.length > 0) throw new FaultsError(faults);
  definitions.sort((a, b) => a.loci[0] - b.loci[0]);
  return definitions.map((definition) => new Block(definition, program.loci));
}

/** Frequencies of a locus by allele. Throws nothing: a locus without frequencies is a fault collected here. */
function frequenciesOf(locus: Locus, faults: Fault[]): number[] {
  if (locus.frequencies) return locus.frequencies.map((frequency) => frequency.toNumber());
  if (locus.alleles.length === 1) return [1];
  faults.push({
    code: 'NO_FREQUENCIES',
    message: `The locus '${locus.id}' has no allele frequencies for animals of unknown parents.`,
    remedy: 'Give them; a 0 says that there are no unknown carriers.',
    ids: [locus.id],
  });
  return locus.alleles.map(() => 1 / locus.alleles.length);
}

function oneGeneOf(
  first: number,
  second: number,
  loci: readonly Locus[],
  faults: Fault[],
): BlockDefinition {
  const [p, s] = [frequenciesOf(loci[first], faults), frequenciesOf(loci[second], faults)];
  const mutants = p.slice(1).reduce((a, b) => a + b, 0) + s.slice(1).reduce((a, b) => a + b, 0);
  if (loci[first].inheritance !== loci[second].inheritance || mutants > 1) {
    faults.push({
      code: 'ALLELISM_TOGETHER',
      message: `'${loci[first].id}' and '${loci[second].id}' cannot be one gene: their inheritance differs or their mutants are too frequent.`,
      remedy: 'Mend the loci or drop the hypothesis.',
      ids: [loci[first].id, loci[second].id],
    });
  }
  const haplotypes = [[0, 0]];
  for (let allele = 1; allele < p.length; allele++) haplotypes.push([allele, 0]);
  for (let allele = 1; allele < s.length; allele++) haplotypes.push([0, allele]);
  const frequency = ([a, b]: readonly number[], [own, other]: readonly number[][]): number => {
    if (a > 0) return own[a];
    return b > 0 ? other[b] : Math.max(0, 1 - mutants);
  };
  return {
    loci: [first, second],
    haplotypes,
    ...frequenciesBy(haplotypes, [p, s], frequency),
    recombination: [0],
    allelic: true,
  };
}

/** Below any frequency anybody writes; it cancels out wherever it is used. */
const RARE = 1e-6;

/** Haplotype frequencies, and once more for each locus with its alleles of frequency 0 taken as merely rare. */
function frequenciesBy(
  haplotypes: readonly (readonly number[])[],
  alleles: readonly number[][],
  frequency: (haplotype: readonly number[], alleles: readonly number[][]) => number,
): Pick<BlockDefinition, 'frequencies' | 'rareFrequencies'> {
  return {
    frequencies: haplotypes.map((haplotype) => frequency(haplotype, alleles)),
    rareFrequencies: alleles.map((_, place) => {
      const rare = alleles.map((own, k) => (k === place ? own.map((f) => f || RARE) : own));
      return haplotypes.map((haplotype) => frequency(haplotype, rare));
    }),
  };
}

/** Loci joined by linkage, each group as a line of neighbours along the chromosome. */
function linkedGroups(program: Program): number[][] {
  const group = program.loci.map((_, locus) => locus);
  for (const { first, second } of program.linkage) {
    const [from, to] = [group[second], group[first]];
    for (let locus = 0; locus < group.length; locus++) if (group[locus] === from) group[locus] = to;
  }
  const groups = new Map<number, number[]>();
  for (const [locus, key] of group.entries()) {
    groups.set(key, [...(groups.get(key) ?? []), locus]);
  }
  return [...groups.values()];
}

function linkedBlock(group: readonly number[], program: Program, faults: Fault[]): BlockDefinition {
  const { loci, linkage } = program;
  const line = alongChromosome(group, program);
  const names = group.map((locus) => loci[locus].id);
  if (!line || group.some((locus) => loci[locus].inheritance !== loci[group[0]].inheritance)) {
    faults.push({
      code: 'LINKAGE_NOT_A_LINE',
      message: `The linked loci ${names.join(', ')} do not form one line along a chromosome.`,
      remedy: 'Give the recombination fraction between each locus and the next, once.',
      ids: names,
    });
  }
  const order = line ?? group;
  const count = order.reduce((product, locus) => product * loci[locus].alleles.length, 1);
  if (order.length > 1 && count > MOST_HAPLOTYPES) {
    faults.push({
      code: 'TOO_MANY_LINKED',
      message: `The linked loci ${names.join(', ')} form ${count} haplotypes.`,
      remedy: `Leave out a locus: at most ${MOST_HAPLOTYPES} are handled.`,
      ids: names,
    });
    return linkedBlock(group.slice(0, 1), { ...program, linkage: [] }, faults);
  }
  const alleles = order.map((locus) => frequenciesOf(loci[locus], faults));
  let haplotypes: number[][] = [[]];
  for (const own of alleles) {
    haplotypes = haplotypes.flatMap((h) => own.map((_, allele) => [...h, allele]));
  }
  const recombination = order.slice(1).map((locus, i) => {
    const link = linkage.find(
      ({ first, second }) =>
        (first === order[i] && second === locus) || (second === order[i] && first === locus),
    );
    return link?.recombination ?? 0.5;
  });
  const product = (haplotype: readonly number[], by: readonly number[][]): number =>
    haplotype.reduce((chance, allele, k) => chance * by[k][allele], 1);
  const frequencies = frequenciesBy(haplotypes, alleles, product);
  return { loci: order, haplotypes, ...frequencies, recombination, allelic: false };
}

function alongChromosome(group: readonly number[], program: Program): number[] | null {
  if (group.length === 1) return [...group];
  const next = new Map<number, number[]>(group.map((locus) => [locus, []]));
  for (const { first, second } of program.linkage) {
    next.get(first)?.push(second);
    next.get(second)?.push(first);
  }
  const start = group.find((locus) => next.get(locus)!.length === 1);
  if (start === undefined) return null;
  const line = [start];
  for (let at = start; line.length <= group.length; ) {
    const onward = next.get(at)!.filter((locus) => !line.includes(locus));
    if (onward.length === 0) break;
    if (onward.length > 1) return null;
    at = onward[0];
    line.push(at);
  }
  const links = [...next.values()].reduce((sum, list) => sum + list.length, 0) / 2;
  return line.length === group.length && links === group.length - 1 ? line : null;
}
