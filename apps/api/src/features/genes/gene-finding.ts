import { Fraction } from '@scutewright/basics';
import { type LabelBasis, traitLabel } from '@scutewright/genetics';
import { type GenesAnswer } from '../../compute/genes-task.js';
import { freeFounders, lociOfRule } from '../../compute/inference-input.js';
import { shareFigure, simpleFraction } from '../../compute/share-figure.js';
import { candidatesOf } from '../../snapshot/findings.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import { type ColourCheck, NONE, type Snapshot, type TraitRow } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';
import type { GeneFinding, Locus, Trait } from './genes.types.js';

/** A probability this near to 1 is 1 but for the rounding of doubles. */
const CERTAIN = 1 - 1e-12;

export function locusType({ id, code, name, definition }: Snapshot['loci'][number]): Locus {
  const { alleles, inheritance } = definition;
  return { id, code, name, alleles: [...alleles], inheritance };
}

export function traitType({ id, name, definition }: TraitRow): Trait {
  return {
    id,
    name,
    description: definition.description ?? null,
    welfareNote: definition.welfareNote ?? null,
    welfareSource: definition.welfareSource ?? null,
    loci: [...new Set(lociOfRule(definition.when))],
  };
}

type Odds = Readonly<Record<string, number>>;

/** What is known of one animal at one locus, with the trade's label and the records behind it. */
export function geneFinding(
  snapshot: Snapshot,
  genes: GenesAnswer,
  position: number,
  locusAt: number,
): GeneFinding {
  const locus = snapshot.loci[locusAt];
  const [common] = locus.definition.alleles;
  const odds: Odds = genes.genotypes[String(position)]?.[locus.code] ?? {};
  const genotypes = Object.entries(odds)
    .map(([genotype, probability]) => ({ genotype, probability }))
    .sort((a, b) => b.probability - a.probability);
  const copies = (genotype: string) =>
    genotype.split('/').filter((allele) => allele !== common).length;
  const [first] = genotypes;
  const certainCopies = first && first.probability >= CERTAIN ? copies(first.genotype) : null;
  const chanceOf = (number: number) =>
    genotypes
      .filter(({ genotype }) => copies(genotype) === number)
      .reduce((sum, { probability }) => sum + probability, 0);
  const carries = chanceOf(1) + chanceOf(2);
  return {
    animal: new Animal(snapshot, position),
    locus: locusType(locus),
    label: labelOf(snapshot, genes, position, locus.code, {
      one: chanceOf(1),
      two: chanceOf(2),
      first: first?.genotype,
      certainCopies,
    }),
    certainCopies,
    carries: shareFigure(
      simpleFraction(certainCopies === null ? Math.min(carries, 1) : certainCopies > 0 ? 1 : 0),
    ),
    genotypes,
    why: reasons(snapshot, genes, position, locusAt),
  };
}

function labelOf(
  snapshot: Snapshot,
  genes: GenesAnswer,
  position: number,
  locus: string,
  found: { one: number; two: number; first: string | undefined; certainCopies: number | null },
): string {
  const { one, two, first, certainCopies } = found;
  if (first === undefined) return 'not known';
  if (certainCopies !== null && certainCopies > 0) {
    const shown = snapshot.traits.find(({ definition }) => showsBy(definition.when, locus, first));
    if (shown) return `visual: ${shown.name}`;
  }
  const visual = simpleFraction(two);
  // What is certain but for rounding is certain.
  const het = one + two >= CERTAIN ? Fraction.one.minus(visual) : simpleFraction(one);
  const label = traitLabel(
    { visual, het },
    {
      proven: !certainParentOf(snapshot, genes, position, locus, 2) && certainCopies === 1,
      cross: plainCross(snapshot, genes, position, locus),
      unrecorded: snapshot.animals.clutch[position] === NONE && !hasEvidence(snapshot, position),
    },
  );
  // Its odds stand beside it, as a figure of their own.
  return label.kind;
}

/** Whether the rule is of this locus alone and takes this genotype (of an adult). */
function showsBy(rule: object, locus: string, genotype: string): boolean {
  if ('locus' in rule && 'genotypes' in rule) {
    return rule.locus === locus && (rule.genotypes as string[]).includes(genotype);
  }
  if ('fromDays' in rule) return true;
  if ('all' in rule) return (rule.all as object[]).every((part) => showsBy(part, locus, genotype));
  return false;
}

/** Copies of rarer alleles where that is certain, else null. */
export function certainCopiesOf(
  genes: GenesAnswer,
  snapshot: Snapshot,
  position: number,
  locus: string,
): number | null {
  const odds = genes.genotypes[String(position)]?.[locus] ?? {};
  const sure = Object.entries(odds).find(([, probability]) => probability >= CERTAIN)?.[0];
  if (sure === undefined) return null;
  const common = snapshot.loci.find(({ code }) => code === locus)?.definition.alleles[0];
  return sure.split('/').filter((allele) => allele !== common).length;
}

function certainParents(snapshot: Snapshot, position: number): [number | null, number | null] {
  const one = (columns: Snapshot['sires']) => {
    const list = candidatesOf(snapshot, columns, position);
    return list.length === 1 && list[0].probability === 1 ? list[0].position : null;
  };
  return [one(snapshot.sires), one(snapshot.dams)];
}

function certainParentOf(
  snapshot: Snapshot,
  genes: GenesAnswer,
  position: number,
  locus: string,
  copies: number,
): boolean {
  return certainParents(snapshot, position).some(
    (parent) => parent !== null && certainCopiesOf(genes, snapshot, parent, locus) === copies,
  );
}

/** The cross that names a label: certain parents of certain genotypes, and nothing else that speaks of the animal. */
function plainCross(
  snapshot: Snapshot,
  genes: GenesAnswer,
  position: number,
  locus: string,
): LabelBasis['cross'] {
  const [sire, dam] = certainParents(snapshot, position);
  if (sire === null || dam === null || youngOf(snapshot, position).length > 0) return null;
  if (snapshot.declarations.some(({ animal }) => animal === position)) return null;
  const copies = [sire, dam].map((parent) => certainCopiesOf(genes, snapshot, parent, locus));
  if (copies[0] === 1 && copies[1] === 1) return 'het x het';
  if (copies.includes(1) && copies.includes(0)) return 'het x normal';
  return null;
}

function hasEvidence(snapshot: Snapshot, position: number): boolean {
  return (
    checksOf(snapshot, position).length > 0 ||
    snapshot.declarations.some(({ animal }) => animal === position) ||
    youngOf(snapshot, position).length > 0
  );
}

const checksByAnimal = new PerSnapshot<ReadonlyMap<number, readonly ColourCheck[]>>();

/** The colour checks of one animal, oldest first. */
function checksOf(snapshot: Snapshot, position: number): readonly ColourCheck[] {
  const checks = checksByAnimal.of(snapshot, () => {
    const found = new Map<number, ColourCheck[]>();
    for (const check of snapshot.colourChecks) {
      const list = found.get(check.animal) ?? [];
      list.push(check);
      found.set(check.animal, list);
    }
    return found;
  });
  return checks.get(position) ?? [];
}

const youngByParent = new PerSnapshot<ReadonlyMap<number, readonly number[]>>();

/** Animals of which it is a possible parent. */
export function youngOf(snapshot: Snapshot, position: number): readonly number[] {
  const young = youngByParent.of(snapshot, () => {
    const found = new Map<number, number[]>();
    for (let i = 0; i < snapshot.animals.count; i++) {
      for (const columns of [snapshot.sires, snapshot.dams]) {
        for (const parent of candidatesOf(snapshot, columns, i)) {
          const list = found.get(parent.position) ?? [];
          list.push(i);
          found.set(parent.position, list);
        }
      }
    }
    return found;
  });
  return young.get(position) ?? [];
}

/** The records that speak of the animal at this locus: its own, then its parents', then its young's. */
function reasons(
  snapshot: Snapshot,
  genes: GenesAnswer,
  position: number,
  locusAt: number,
): string[] {
  const { code } = snapshot.loci[locusAt];
  const { codes } = snapshot.animals;
  const traitsHere = snapshot.traits.filter(({ definition }) =>
    lociOfRule(definition.when).includes(code),
  );
  const looks = (animal: number): string[] =>
    checksOf(snapshot, animal).flatMap(({ seen, absent, date }) => {
      const when = date ? `, ${date}` : '';
      const [shown, missing] = [seen, absent].map((list) =>
        list.map((at) => snapshot.traits[at]).filter((trait) => traitsHere.includes(trait)),
      );
      if (shown.length > 0) return [`shows ${shown.map(({ name }) => name).join(' and ')}${when}`];
      if (missing.length === 0) return [];
      const none = absent.length === snapshot.traits.length;
      const what = none ? 'none' : `no ${missing.map(({ name }) => name).join(', no ')}`;
      return [`was looked at and shows ${what}${when}`];
    });
  const why = looks(position).map((look) => `It ${look}`);
  for (const { animal, locus, alleles, trust } of snapshot.declarations) {
    if (animal === position && locus === locusAt) {
      why.push(`Seller or notebook said ${alleles.join('/')}; trust put in it ${trust}`);
    }
  }
  if (freeFounders(snapshot, locusAt).includes(position)) {
    why.push('The program says that this founder does not carry it');
  }
  for (const [word, columns] of [
    ['Father', snapshot.sires],
    ['Mother', snapshot.dams],
  ] as const) {
    const list = candidatesOf(snapshot, columns, position);
    for (const parent of list.slice(0, 3)) {
      const is =
        list.length === 1 && parent.probability === 1 ? word : `Possible ${word.toLowerCase()}`;
      const known = certainCopiesOf(genes, snapshot, parent.position, code);
      const carries =
        known === 2
          ? 'has two copies'
          : known === 1
            ? 'carries one copy'
            : known === 0
              ? 'does not carry it'
              : 'may carry it';
      why.push(`${is} ${codes[parent.position]} ${carries}`);
    }
  }
  const shown = youngOf(snapshot, position).filter((young) =>
    looks(young).some((look) => look.startsWith('shows')),
  );
  for (const young of shown.slice(0, 5)) why.push(`Young ${codes[young]} ${looks(young)[0]}`);
  const plain = youngOf(snapshot, position).length - shown.length;
  if (plain > 0)
    why.push(
      `${plain} other young ${plain === 1 ? 'does' : 'do'} not show it or ${plain === 1 ? 'was' : 'were'} not looked at`,
    );
  return why;
}
