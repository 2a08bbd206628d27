import type { LocusInput, RuleInput } from '@scutewright/genetics';
import type { FileRow } from './program-row.js';

export type InheritanceMode = 'RECESSIVE' | 'DOMINANT' | 'INCOMPLETE_DOMINANT';

/** How a trait that is not known would be made, and why: to be confirmed or changed, never taken as found. */
export interface TraitProposal {
  readonly mode: InheritanceMode;
  readonly locus: LocusInput;
  /** Whether the locus would be made with the trait. */
  readonly isNewLocus: boolean;
  readonly rule: RuleInput;
  /** One sentence: what in the file speaks for the proposal. */
  readonly basis: string;
}

/** Words before a trait's name for the look of two copies: common practice of the trade, no source. */
const STRONGER = /^(?:deep|super|double|extreme|strong|full|homozygous) (.+)$/i;
/** From so many young of one showing parent on, about half of them showing means that one copy shows. */
const ENOUGH_YOUNG = 8;

interface YoungCounts {
  /** Young looked at, of two certain parents that were looked at, by how many of these show the trait. */
  readonly young: [number, number, number];
  /** Those among them that show it. */
  readonly showing: [number, number, number];
}

/**
 * Proposals for trait names that the program does not know. The locus is one whose homozygous genotype is declared
 * of an animal that shows the trait, else one whose short name is made of the trait's letters (pl, pale), else a new
 * one. The mode follows from young whose parents were both looked at; where they say nothing, recessive is proposed.
 * `loci`: known ones and those that the file names.
 */
export function guessInheritance(
  names: readonly string[],
  rows: readonly FileRow[],
  loci: readonly LocusInput[],
): ReadonlyMap<string, TraitProposal> {
  const proposals = new Map<string, TraitProposal>();
  const taken = new Map(loci.map((locus) => [locus.id, locus]));
  const used = new Set<string>();
  const wanted = new Set(names);
  const bases = names.filter((name) => !wanted.has(STRONGER.exec(name)?.[1] ?? ''));
  const stronger = new Map(
    names.flatMap((name) => {
      const base = STRONGER.exec(name)?.[1];
      return base === undefined ? [] : [[base, name] as const];
    }),
  );
  const counts = countYoung(bases, rows);
  for (const name of bases) {
    const double = stronger.get(name);
    const { locus, isNew } = locusFor(name, rows, taken, used);
    taken.set(locus.id, locus);
    used.add(locus.id);
    const [common, mutant] = allelePair(name, locus);
    const genotypes = (...list: string[]): RuleInput => ({ locus: locus.id, genotypes: list });
    const het = `${common}/${mutant}`;
    const both = fullGenotypes(locus, mutant);
    const shared = { locus, isNewLocus: isNew };
    if (double !== undefined) {
      const basis = `'${double}' is named beside '${name}': two copies and one copy.`;
      const mode = 'INCOMPLETE_DOMINANT';
      proposals.set(name, { ...shared, mode, rule: genotypes(het), basis });
      proposals.set(double, {
        ...shared,
        isNewLocus: false,
        mode,
        rule: genotypes(...both),
        basis,
      });
      continue;
    }
    const { mode, basis } = judge(counts.get(name)!);
    const rule = mode === 'RECESSIVE' ? genotypes(...both) : genotypes(het, ...both);
    proposals.set(name, { ...shared, mode, rule, basis });
  }
  return proposals;
}

function judge({ young, showing }: YoungCounts): { mode: InheritanceMode; basis: string } {
  if (showing[0] > 0) {
    return {
      mode: 'RECESSIVE',
      basis: `${showing[0]} of ${young[0]} young show it though neither parent does.`,
    };
  }
  if (young[1] >= ENOUGH_YOUNG && showing[1] / young[1] > 0.3 && young[0] >= young[1]) {
    return {
      mode: 'DOMINANT',
      basis: `${showing[1]} of ${young[1]} young of one showing parent show it, and none of ${young[0]} whose parents do not; what two copies look like is not in the file.`,
    };
  }
  return {
    mode: 'RECESSIVE',
    basis: 'The file does not tell; recessive is only the usual first guess.',
  };
}

function countYoung(
  names: readonly string[],
  rows: readonly FileRow[],
): ReadonlyMap<string, YoungCounts> {
  // Who was looked at for some traits only is left out: of the others nothing is known.
  const byCode = new Map(rows.map((row) => [row.code, row.absent.length > 0 ? null : row]));
  // Young that show nothing, as do both parents, count alike for every trait.
  let plain = 0;
  const families: { traits: readonly string[]; parents: (readonly string[])[] }[] = [];
  for (const { traits, absent, sires, dams } of rows) {
    if (traits === null || absent.length > 0 || sires.length !== 1 || dams.length !== 1) continue;
    if ((sires[0].probability ?? 1) < 1 || (dams[0].probability ?? 1) < 1) continue;
    const sire = byCode.get(sires[0].code)?.traits;
    const dam = byCode.get(dams[0].code)?.traits;
    if (!sire || !dam) continue;
    if (traits.length + sire.length + dam.length === 0) plain++;
    else families.push({ traits, parents: [sire, dam] });
  }
  const counts = new Map<string, YoungCounts>();
  for (const name of names) {
    const count: YoungCounts = { young: [plain, 0, 0], showing: [0, 0, 0] };
    for (const { traits, parents } of families) {
      const of = parents.filter((shown) => shown.includes(name)).length;
      count.young[of]++;
      if (traits.includes(name)) count.showing[of]++;
    }
    counts.set(name, count);
  }
  return counts;
}

function locusFor(
  name: string,
  rows: readonly FileRow[],
  taken: ReadonlyMap<string, LocusInput>,
  used: ReadonlySet<string>,
): { locus: LocusInput; isNew: boolean } {
  const declared = declaredLocus(name, rows, taken, used) ?? spelledLocus(name, taken, used);
  if (declared) return { locus: declared, isNew: false };
  const initial = firstLetter(name);
  const id = newLocusName(name, taken);
  const alleles = ['N', initial === 'n' ? 'n1' : initial];
  return { locus: { id, alleles, inheritance: 'autosomal' }, isNew: true };
}

/** The locus at which most animals that show the trait are declared to have two equal alleles that are not common. */
function declaredLocus(
  name: string,
  rows: readonly FileRow[],
  taken: ReadonlyMap<string, LocusInput>,
  used: ReadonlySet<string>,
): LocusInput | null {
  const votes = new Map<string, number>();
  for (const { traits, genotype } of rows) {
    if (genotype.length === 0 || !traits?.includes(name)) continue;
    for (const { locus, alleles } of genotype) {
      const common = taken.get(locus)?.alleles[0];
      if (used.has(locus) || alleles[0] === common || alleles.some((each) => each !== alleles[0]))
        continue;
      votes.set(locus, (votes.get(locus) ?? 0) + 1);
    }
  }
  const best = [...votes].sort((a, b) => b[1] - a[1])[0];
  return best ? (taken.get(best[0]) ?? null) : null;
}

/** The locus whose name begins as the trait's and has only letters of it, in their order. */
function spelledLocus(
  name: string,
  taken: ReadonlyMap<string, LocusInput>,
  used: ReadonlySet<string>,
): LocusInput | null {
  const letters = name.toLowerCase();
  for (const [id, locus] of taken) {
    const short = id.toLowerCase();
    if (used.has(id) || short[0] !== letters[0]) continue;
    let from = 0;
    const isSpelled = [...short].every((letter) => {
      from = letters.indexOf(letter, from) + 1;
      return from > 0;
    });
    if (isSpelled) return locus;
  }
  return null;
}

function allelePair(name: string, locus: LocusInput): [common: string, mutant: string] {
  const [common, ...others] = locus.alleles;
  const initial = firstLetter(name);
  const mutant = others.find((allele) => allele.toLowerCase().startsWith(initial)) ?? others[0];
  return [common, mutant ?? common];
}

/** Genotypes of nothing but one allele: two copies, and the only one where a sex has one copy. */
export function fullGenotypes(locus: LocusInput, allele: string): string[] {
  const two = `${allele}/${allele}`;
  return (locus.inheritance ?? 'autosomal') === 'autosomal' ? [two] : [two, allele];
}

/** Two letters of the trait's name, with a number behind where that is taken. */
function newLocusName(name: string, taken: ReadonlyMap<string, unknown>): string {
  const letters = name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const second = letters.slice(1).replace(/[aeiou]/g, '')[0] ?? letters[1] ?? '1';
  const short = `${letters[0] ?? 't'}${second}`;
  if (!taken.has(short)) return short;
  for (let n = 2; ; n++) if (!taken.has(`${short}${n}`)) return `${short}${n}`;
}

function firstLetter(name: string): string {
  return /\p{L}/u.exec(name)?.[0].toLowerCase() ?? 't';
}
