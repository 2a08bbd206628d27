import { randomUUID } from 'node:crypto';
import type {
  Definitions,
  ImportQuestion,
  LocusDefinition,
  TraitDefinition,
} from '@scutewright/commands';
import type { LocusInput } from '@scutewright/genetics';
import type { Tx } from '../../db/database.js';
import { insertRows } from '../../db/insert-rows.js';

/** Loci, traits and pens as a file of definitions lists them. */
export async function makeDefinitions(tx: Tx, programId: string, all: Definitions): Promise<void> {
  await insertRows(
    tx,
    programId,
    'locus',
    { id: 'uuid', code: 'text', name: 'text', definition: 'jsonb' },
    all.loci.map(({ id, name, ...definition }) => ({
      id: randomUUID(),
      code: id,
      name,
      definition: JSON.stringify(definition),
    })),
  );
  await insertRows(
    tx,
    programId,
    'trait',
    { id: 'uuid', code: 'text', name: 'text', definition: 'jsonb' },
    all.traits.map(({ name, ...definition }) => ({
      id: randomUUID(),
      code: name,
      name,
      definition: JSON.stringify(definition),
    })),
  );
  await insertRows(
    tx,
    programId,
    'pen',
    { id: 'uuid', name: 'text', area_m2: 'float8', is_quarantine: 'bool', features: 'jsonb' },
    all.pens.map(({ name, areaM2, isQuarantine, features }) => ({
      id: randomUUID(),
      name,
      area_m2: areaM2 ?? null,
      is_quarantine: isQuarantine,
      features: JSON.stringify({ list: features }),
    })),
  );
}

/** The definitions that the questions of a dry run propose. */
export function proposedDefinitions(questions: readonly ImportQuestion[]): Definitions {
  const loci = new Map<string, LocusInput>();
  const traits: (TraitDefinition & { name: string })[] = [];
  const pens: Definitions['pens'] = [];
  for (const question of questions) {
    if (question.kind === 'LOCUS') loci.set(question.name, question.proposal);
    if (question.kind === 'PEN')
      pens.push({ name: question.name, isQuarantine: false, features: [] });
    if (question.kind === 'TRAIT') {
      const { locus, isNewLocus, rule, basis } = question.proposal;
      if (isNewLocus && !loci.has(locus.id)) loci.set(locus.id, locus);
      traits.push({
        name: question.name,
        when: rule,
        ...(basis && { description: basis }),
        misreadYoung: 0,
        misreadAdult: 0,
      });
    }
  }
  return {
    loci: [...loci.values()].map(({ id, alleles, inheritance, frequencies }) => ({
      id,
      name: id,
      alleles: [...alleles],
      inheritance: (inheritance ?? 'autosomal') as LocusDefinition['inheritance'],
      ...(frequencies && { frequencies: { ...frequencies } }),
    })),
    traits,
    pens,
  };
}
