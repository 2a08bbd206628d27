import type { LocusInput } from '@scutewright/genetics';
import type { Headings } from './check-links.js';
import type { FileFaults } from './file-fault.js';
import type { DeclaredGenotype, FileRow } from './program-row.js';

/** A locus that the file names and the program does not know, as it would be made. */
export interface FoundLocus {
  readonly locus: LocusInput;
  /** Animals of the file with a declared genotype at it. */
  readonly animals: number;
  readonly firstLine: number;
}

/**
 * The loci that rows name and `known` does not hold, with the alleles that the file gives them: the commonest one,
 * then those declared of at least two animals. An allele that stands in the file once is taken for a slip as soon
 * as there are two others; among those seen once, one with the locus's first letter goes first.
 */
export function foundLoci(
  rows: readonly FileRow[],
  known: readonly LocusInput[],
): ReadonlyMap<string, FoundLocus> {
  const names = new Set(known.map((locus) => locus.id));
  const seen = new Map<
    string,
    { alleles: Map<string, number>; animals: number; firstLine: number; single: Set<string> }
  >();
  for (const row of rows) {
    for (const { locus, alleles } of row.genotype) {
      if (names.has(locus)) continue;
      let entry = seen.get(locus);
      if (!entry) {
        entry = { alleles: new Map(), animals: 0, firstLine: row.line, single: new Set() };
        seen.set(locus, entry);
      }
      entry.animals++;
      if (alleles.length === 1) entry.single.add(row.sex ?? '?');
      for (const allele of new Set(alleles)) {
        entry.alleles.set(allele, (entry.alleles.get(allele) ?? 0) + 1);
      }
    }
  }
  const found = new Map<string, FoundLocus>();
  for (const [id, { alleles, animals, firstLine, single }] of seen) {
    found.set(id, {
      locus: { id, alleles: likelyAlleles(id, alleles), inheritance: inheritanceOf(single) },
      animals,
      firstLine,
    });
  }
  return found;
}

/** Animals with one copy of a locus are the males of XY species, the females of ZW species. */
function inheritanceOf(single: ReadonlySet<string>): string {
  if (single.has('m') && !single.has('f')) return 'x-linked';
  if (single.has('f') && !single.has('m')) return 'z-linked';
  return 'autosomal';
}

function likelyAlleles(locus: string, counts: ReadonlyMap<string, number>): string[] {
  const initial = locus.slice(0, 1).toLowerCase();
  const rank = (allele: string): number => (allele.toLowerCase().startsWith(initial) ? 0 : 1);
  const ordered = [...counts].sort(
    ([a, countA], [b, countB]) => countB - countA || rank(a) - rank(b) || (a < b ? -1 : 1),
  );
  const kept = ordered.filter(([, count], position) => position < 2 || count > 1);
  const alleles = kept.map(([allele]) => allele);
  if (alleles.length === 1) alleles.push(otherAllele(locus, alleles[0]));
  return alleles;
}

/** A name for the allele nobody declared: the initial of the locus, or N for the common form. */
function otherAllele(locus: string, allele: string): string {
  const initial = locus.slice(0, 1).toLowerCase();
  return allele === initial ? 'N' : initial;
}

/** Adds a fault for each declared genotype with an allele or a number of copies that its locus does not have. */
export function checkGenotypes(
  rows: readonly FileRow[],
  loci: ReadonlyMap<string, LocusInput>,
  headings: Headings,
  faults: FileFaults,
): void {
  for (const row of rows) {
    for (const { locus: id, alleles } of row.genotype) {
      const locus = loci.get(id);
      if (!locus) continue;
      const add = (code: string, message: string, remedy: string): void =>
        faults.add({
          code,
          isFatal: true,
          line: row.line,
          column: headings.genotype,
          value: writeGenotype(row.genotype),
          message,
          remedy,
        });
      const unknown = alleles.find((allele) => !locus.alleles.includes(allele));
      if (unknown !== undefined) {
        const list = locus.alleles.join(' or ');
        const message = `The allele '${unknown}' is not one of the locus '${id}'.`;
        add('UNKNOWN_ALLELE', message, `Write ${list}, or first define '${unknown}' at '${id}'.`);
      } else if (alleles.length === 1 && (locus.inheritance ?? 'autosomal') === 'autosomal') {
        const message = `One allele is given at '${id}', of which every animal has two.`;
        add('ONE_ALLELE', message, `Write both, for example ${id}=${alleles[0]}/${alleles[0]}.`);
      }
    }
  }
}

/** `pl=N/p;sm=N/N`, as a program file has it. */
export function writeGenotype(declared: readonly DeclaredGenotype[]): string {
  return declared.map(({ locus, alleles }) => `${locus}=${alleles.join('/')}`).join(';');
}
