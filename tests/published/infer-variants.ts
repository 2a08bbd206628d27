import { Fraction } from '@scutewright/basics';
import {
  carrierAfterNormals,
  genotypePosteriors,
  type ProgramInput,
  type TestMate,
} from '@scutewright/inference';
import { UnreadableShape } from './case-file.js';
import { type Comparison, record } from './comparison.js';
import { checkBlock, type Json, near, onlyLocus } from './infer-block.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/** Looks for the animals' young in order: the last animals, whose record says what was seen. */
export function withLooks(input: ProgramInput, looks: readonly string[]): ProgramInput {
  const young = input.animals.filter(({ clutch, sire, dam }) => clutch || (sire && dam));
  const evidence = (input.evidence ?? []).map((entry): Evidence => {
    if (entry.kind !== 'phenotype') return entry;
    const place = young.findIndex(({ id }) => id === entry.animal);
    return place < 0 ? entry : { ...entry, seen: looks[place] === 'pale' };
  });
  return { ...input, evidence };
}

/** Keys such as `pale+normal / multiple 3/10`: what the young look like, and the paternity. */
export function checkYoungAndPaternity(
  input: ProgramInput,
  expected: unknown,
  seen: Comparison,
): void {
  const sample = (input.evidence ?? []).find((entry) => entry.kind === 'phenotype');
  const [clutch] = input.clutches ?? [];
  if (!sample || !clutch) throw new UnreadableShape('no young to vary');
  const parents = input.animals.filter((animal) => !animal.clutch);
  const parentIds = parents.map(({ id }) => id);
  for (const [key, value] of Object.entries(record('by_young_and_paternity', expected))) {
    const [looks, how] = key.split(' / ').map((part) => part.trim());
    const [kind, rate] = (
      /^(\S+)(?:\s+(\S+))?$/.exec(key.slice(key.indexOf(' / ') + 3)) ?? []
    ).slice(1);
    if (!looks || !how) throw new UnreadableShape(`'${key}' cannot be read`);
    const young = looks.split('+').map((look, i) => ({ look: look.trim(), id: `y${i + 1}` }));
    const evidence = (input.evidence ?? []).filter(
      (entry) => 'animal' in entry && parentIds.includes(entry.animal),
    );
    const scores = young.map(({ look, id }): Evidence => {
      if (look !== 'pale' && look !== 'normal') throw new UnreadableShape(`the look '${look}'`);
      return { ...sample, id: `look of ${id}`, animal: id, seen: look === 'pale' };
    });
    const paternity = paternityOf(kind, rate);
    checkBlock(
      key,
      {
        ...input,
        animals: [...parents, ...young.map(({ id }) => ({ id, clutch: clutch.id }))],
        clutches: [{ ...clutch, paternity }],
        evidence: [...evidence, ...scores],
      },
      record(key, value),
      seen,
    );
  }
}

type Paternity = NonNullable<ProgramInput['clutches']>[number]['paternity'];

function paternityOf(kind: string, rate: string | undefined): Paternity {
  if (kind === 'single' || kind === 'independent') return kind;
  if (kind === 'multiple' && rate) return { multiple: rate };
  throw new UnreadableShape(`the paternity '${kind} ${rate ?? ''}'`);
}

/** The one animal of the genotypes listed whose genotype is open: the suspect. */
function suspectOf(expected: Json): string {
  const open = Object.entries(record('genotypes', expected.genotypes)).filter(([, loci]) =>
    Object.values(record('genotypes', loci)).some(
      (chances) => Object.keys(record('chances', chances)).length > 1,
    ),
  );
  if (open.length !== 1) throw new UnreadableShape('which animal is mated?');
  return open[0][0];
}

/** A suspect after n normal young by a visual or a proven het: by the records, and by the planning rule. */
export function checkNormalYoung(
  input: ProgramInput,
  expected: Json,
  value: unknown,
  seen: Comparison,
): void {
  const suspect = suspectOf(expected);
  const [locus] = input.loci;
  const [normal, mutant] = locus.alleles;
  const [trait] = input.traits ?? [];
  const sex = input.animals.find(({ id }) => id === suspect)?.sex;
  const before = onlyLocus(genotypePosteriors(input).genotypes[suspect]);
  for (const [mate, byNumber] of Object.entries(record('carrier_after_n_normal_young', value))) {
    const genotype = mate === 'to a visual' ? `${mutant}/${mutant}` : `${normal}/${mutant}`;
    for (const [n, figure] of Object.entries(record(mate, byNumber))) {
      const young = Array.from({ length: Number(n) }, (_, i) => `young ${i}`);
      const [sire, dam] = sex === 'f' ? ['the mate', suspect] : [suspect, 'the mate'];
      const extended: ProgramInput = {
        ...input,
        animals: [
          ...input.animals,
          { id: 'the mate', sex: sex === 'f' ? 'm' : 'f' },
          ...young.map((id) => ({ id, sire, dam })),
        ],
        evidence: [
          ...(input.evidence ?? []),
          { kind: 'prior', animal: 'the mate', locus: locus.id, genotypes: { [genotype]: '1' } },
          ...young.map(
            (animal): Evidence => ({ kind: 'phenotype', animal, trait: trait.id, seen: false }),
          ),
        ],
      };
      const after = onlyLocus(genotypePosteriors(extended).genotypes[suspect]);
      const carrier = `${normal}/${mutant}`;
      near(seen, `${mate}, ${n} normal young`, figure, after[carrier] ?? 0);
      const planned = carrierAfterNormals(before[carrier] ?? 0, mateOf(mate), Number(n));
      near(seen, `${mate}, ${n} normal young, planned`, figure, planned.toNumber());
    }
  }
}

export function mateOf(words: string): TestMate {
  if (words.includes('visual')) return { visual: 1, het: 0 };
  if (words.includes('proven het')) return { visual: 0, het: 1 };
  const perCent = /(\d+) % het/.exec(words)?.[1];
  if (!perCent) throw new UnreadableShape(`the mate '${words}'`);
  return { visual: 0, het: perCent === '66' ? '2/3' : `${perCent}/100` };
}

function withFrequency(input: ProgramInput, q: string): ProgramInput {
  const p = Fraction.parse(q).complement().toString();
  const loci = input.loci.map((locus) => {
    const [normal, mutant] = locus.alleles;
    return { ...locus, frequencies: { [normal]: p, [mutant]: q } };
  });
  return { ...input, loci };
}

const COUSINS: Readonly<Record<string, readonly [animal: string, genotype: string]>> = {
  cousin_carrier: ['K', 'n/a'],
  C_carrier: ['C', 'n/a'],
  affected_young: ['baby', 'a/a'],
};

function checkCousins(where: string, input: ProgramInput, expected: Json, seen: Comparison): void {
  const { genotypes } = genotypePosteriors(input);
  for (const [key, figure] of Object.entries(expected)) {
    if (!COUSINS[key]) throw new UnreadableShape(`the figure '${key}'`);
    const [animal, genotype] = COUSINS[key];
    near(seen, `${where}, ${key}`, figure, onlyLocus(genotypes[animal])[genotype] ?? 0);
  }
}

export function checkByFrequency(input: ProgramInput, value: unknown, seen: Comparison): void {
  for (const [q, figures] of Object.entries(record('by_q', value))) {
    checkCousins(`q = ${q}`, withFrequency(input, q), record(q, figures), seen);
  }
}

/** The limit is approached: at this q it differs from the figure by far less than the tolerance. */
export function checkLimit(input: ProgramInput, value: Json, seen: Comparison): void {
  checkCousins('q to 0', withFrequency(input, '1/10000000000000'), value, seen);
}

export function checkBeforeSons(input: ProgramInput, value: unknown, seen: Comparison): void {
  const sons = input.animals.filter(({ id }) => id.startsWith('son')).map(({ id }) => id);
  const evidence = (input.evidence ?? []).filter(
    (entry) => !('animal' in entry) || !sons.includes(entry.animal),
  );
  const found = genotypePosteriors({ ...input, evidence }).genotypes.consultand;
  const [normal, mutant] = input.loci[0].alleles;
  near(seen, 'before_the_sons', value, onlyLocus(found)[`${normal}/${mutant}`] ?? 0);
}
