import type { ProgramInput } from '@scutewright/inference';

/** Steps over parents and young that count as near: grandparents, uncles and aunts, mates, grand-young. */
const STEPS = 3;
/** Animals of a near family at most: what keeps an inference of it short. */
const MOST = 40;
/** Programs with no more records than this are taken whole. */
const FEW_RECORDS = 40;

/** A program cut down to one animal's near family. */
export interface NearFamily {
  readonly program: ProgramInput;
  /** Null where the program is small and was taken whole. */
  readonly animals: ReadonlySet<string> | null;
}

/**
 * The near family of an animal with its records, for questions that take many inferences: what changes without a record, what a
 * step would tell. Others stand as founders without records, so figures are approximate and say so. `known`: genotype odds by
 * locus of animals that are needed though they are not near; they stand in for the records left out. Cost: one pass over the program.
 */
export function nearFamily(
  program: ProgramInput,
  animal: string,
  known: Readonly<Record<string, Readonly<Record<string, Readonly<Record<string, number>>>>>> = {},
): NearFamily {
  const { animals, clutches = [], evidence = [] } = program;
  if (evidence.length <= FEW_RECORDS) return { program, animals: null };
  const parentsOf = new Map(
    clutches.map(({ id, sires = [], dams = [] }) => [id, [...sires, ...dams].map((one) => one.id)]),
  );
  const links = new Map<string, string[]>();
  const link = (from: string, to: string) => links.set(from, [...(links.get(from) ?? []), to]);
  for (const { id, clutch } of animals) {
    for (const parent of parentsOf.get(clutch ?? '') ?? []) {
      link(id, parent);
      link(parent, id);
    }
  }
  const near = new Set([animal]);
  let front = [animal];
  for (let step = 0; step < STEPS && near.size < MOST; step++) {
    const next: string[] = [];
    for (const one of front.flatMap((from) => links.get(from) ?? [])) {
      if (near.has(one) || near.size >= MOST) continue;
      near.add(one);
      next.push(one);
    }
    front = next;
  }
  const kept = new Set(
    animals.flatMap(({ id, clutch }) => (near.has(id) && clutch ? [clutch] : [])),
  );
  return {
    animals: near,
    program: {
      ...program,
      animals: animals.map((one) => (near.has(one.id) ? one : { ...one, clutch: null })),
      finds: program.finds?.filter((find) => find.animals.every((id) => near.has(id))),
      evidence: [
        ...evidence.filter((record) => {
          if ('animal' in record) return near.has(record.animal);
          const of = record.clutch ? [record.clutch] : (record.clutches ?? []).map(({ id }) => id);
          return of.every((id) => kept.has(id));
        }),
        ...Object.entries(known).flatMap(([id, loci]) =>
          near.has(id)
            ? []
            : Object.entries(loci).map(([locus, genotypes]) => ({
                kind: 'prior' as const,
                animal: id,
                locus,
                genotypes,
              })),
        ),
      ],
    },
  };
}
