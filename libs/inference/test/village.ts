import { seededRandom } from '@scutewright/basics';
import type { ProgramInput } from '@scutewright/inference';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

export const LOCI = [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: '4/5', a: '1/5' } }];
export const TRAITS = [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }];

/** An invented village: three generations, small clutches, uncertain sires, every look perhaps misread. */
export function village(seed: number, looked = 0.8): ProgramInput {
  const random = seededRandom(seed);
  const animals: { id: string; sex: 'm' | 'f'; clutch?: string }[] = [];
  const clutches: NonNullable<ProgramInput['clutches']>[number][] = [];
  for (let i = 0; i < 8; i++) animals.push({ id: `V${i}`, sex: i % 2 ? 'f' : 'm' });
  for (let c = 0; c < 14; c++) {
    const recent = animals.slice(-14);
    const pick = (sex: 'm' | 'f'): string => {
      const list = recent.filter((animal) => animal.sex === sex);
      return (list[random.below(list.length)] ?? animals[sex === 'm' ? 0 : 1]).id;
    };
    const sires = [...new Set([pick('m'), pick('m')])];
    clutches.push({
      id: `c${c}`,
      dam: pick('f'),
      sires: sires.map((id) => ({ id, probability: `1/${sires.length}` })),
    });
    for (let i = 0; i < 2; i++) {
      animals.push({ id: `V${animals.length}`, sex: random.below(2) ? 'f' : 'm', clutch: `c${c}` });
    }
  }
  const evidence = animals.flatMap(({ id }): Evidence[] =>
    random.next() < looked
      ? [
          {
            kind: 'phenotype',
            animal: id,
            trait: 'pale',
            seen: random.next() < 0.1,
            misread: '1/50',
          },
        ]
      : [],
  );
  return { loci: LOCI, traits: TRAITS, animals, clutches, evidence };
}
