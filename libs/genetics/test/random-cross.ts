import type { CrossInput, GenotypesInput, LocusInput, RuleInput, Sex } from '@scutewright/genetics';
import fc from 'fast-check';

const inheritance = fc.constantFrom('autosomal', 'autosomal', 'X', 'Z');

/** Two to three loci with two or three alleles, the first two perhaps linked. */
const loci: fc.Arbitrary<{ loci: LocusInput[]; linkage: CrossInput['linkage'] }> = fc
  .record({
    kinds: fc.array(inheritance, { minLength: 2, maxLength: 3 }),
    alleles: fc.array(fc.integer({ min: 2, max: 3 }), { minLength: 3, maxLength: 3 }),
    r: fc.option(fc.integer({ min: 0, max: 8 }), { freq: 1 }),
  })
  .map(({ kinds, alleles, r }) => ({
    loci: kinds.map((kind, i) => ({
      id: 'ABC'[i],
      alleles: ['+', 'x', 'y'].slice(0, alleles[i]),
      inheritance: i === 1 && r !== null ? kinds[0] : kind,
    })),
    linkage: r === null ? [] : [{ loci: ['A', 'B'], r: `${r}/16` }],
  }));

function textsOf(locus: LocusInput, copies: 1 | 2): string[] {
  if (copies === 1) return [...locus.alleles];
  // Both orders: at linked loci they are different chromosomes.
  return locus.alleles.flatMap((a) => locus.alleles.map((b) => `${a}/${b}`));
}

function copiesOf(locus: LocusInput, sex: Sex): 1 | 2 {
  const single = locus.inheritance === 'X' ? 'm' : locus.inheritance === 'Z' ? 'f' : null;
  return sex === single ? 1 : 2;
}

const genotypesOf = (list: readonly LocusInput[], sex: Sex): fc.Arbitrary<GenotypesInput> =>
  fc.record(
    Object.fromEntries(
      list.map((locus) => [locus.id, fc.constantFrom(...textsOf(locus, copiesOf(locus, sex)))]),
    ),
  );

const mixtureOf = (list: readonly LocusInput[], sex: Sex) =>
  fc
    .array(fc.tuple(fc.integer({ min: 1, max: 4 }), genotypesOf(list, sex)), {
      minLength: 1,
      maxLength: 3,
    })
    .map((rows) => {
      const sum = rows.reduce((total, [weight]) => total + weight, 0);
      return rows.map(([weight, genotypes]) => ({ probability: `${weight}/${sum}`, genotypes }));
    });

const atomOf = (list: readonly LocusInput[]): fc.Arbitrary<RuleInput> =>
  fc.constantFrom(...list).chain((locus) => {
    const kinds = locus.inheritance === 'autosomal' ? ([2] as const) : ([1, 2] as const);
    const texts = kinds.flatMap((copies) => textsOf(locus, copies));
    return fc
      .subarray(texts, { minLength: 1 })
      .map((genotypes) => ({ locus: locus.id, genotypes }));
  });

export const ruleOf = (list: readonly LocusInput[]): fc.Arbitrary<RuleInput> => {
  const atom = atomOf(list);
  const sex = fc.constantFrom<RuleInput>({ sex: 'm' }, { sex: 'f' });
  const leaf = fc.oneof({ weight: 5, arbitrary: atom }, { weight: 1, arbitrary: sex });
  const parts = fc.array(leaf, { minLength: 1, maxLength: 3 });
  return fc.oneof(
    leaf,
    parts.map((all) => ({ all })),
    parts.map((any) => ({ any })),
    parts.map((all) => ({ not: { all } })),
  );
};

/** A random pairing with one trait of two rules; a rule that no genotype meets is the caller's fault, so such are filtered by the test. */
export const randomCross: fc.Arbitrary<CrossInput> = loci.chain(({ loci: list, linkage }) =>
  fc.record({
    loci: fc.constant(list),
    linkage: fc.constant(linkage),
    sire: mixtureOf(list, 'm'),
    dam: mixtureOf(list, 'f'),
    lethal: fc.array(ruleOf(list), { maxLength: 1 }),
    traits: fc.tuple(ruleOf(list), ruleOf(list)).map(([first, second]) => [
      {
        id: 't',
        classes: [
          { name: 'one', when: first },
          { name: 'two', when: second },
        ],
        otherwise: 'none',
      },
    ]),
  }),
);
