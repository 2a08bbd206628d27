import { randomUUID } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { Fraction } from '@scutewright/basics';
import {
  type AddLocusInput,
  type EditLocusInput,
  type InheritanceName,
  type LocusDefinition,
  type RemoveLocusInput,
  type RemoveLocusPairInput,
  type SetLocusPairInput,
  traitDefinitionSchema,
} from '@scutewright/commands';
import { lociOfRule } from '../../compute/inference-input.js';
import { command } from '../../db/command.js';
import { Database, type Tx } from '../../db/database.js';
import type { ProgramAccess } from '../../db/in-program.js';
import { notFound, UserError } from '../../graphql/errors.js';
import { listOf, refuseBrokenDefinitions } from '../../snapshot/refuse-broken-definitions.js';
import { type LocusNames, renameInRule } from './rename-in-rule.js';

const INHERITANCE: Record<InheritanceName, LocusDefinition['inheritance']> = {
  AUTOSOMAL: 'autosomal',
  X_LINKED: 'x-linked',
  Z_LINKED: 'z-linked',
};

/** Adding, correcting and removing genes, and saying how two lie to each other. Each is one act; the kernels check the whole before it is kept. */
@Injectable()
export class LocusCommands {
  constructor(private readonly database: Database) {}

  add(right: ProgramAccess, input: AddLocusInput): Promise<{ locusId: string }> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'add-locus' };
    return command(this.database, right, request, async (tx) => {
      await refuseTakenCode(tx, programId, input.code, null);
      const locusId = randomUUID();
      const { code, name } = input;
      const definition = await definitionOf(tx, programId, input);
      await tx.locus.create({ data: { programId, id: locusId, code, name, definition } });
      await refuseBrokenDefinitions(tx, programId);
      return { sentence: `Added the gene ${name}`, result: { locusId } };
    });
  }

  edit(right: ProgramAccess, input: EditLocusInput): Promise<{ locusId: string }> {
    const { programId } = right;
    const { locusId, code, name } = input;
    const request = { id: input.commandId, kind: 'edit-locus' };
    return command(this.database, right, request, async (tx) => {
      const before = await findLocus(tx, programId, locusId, 'input.locusId');
      if (code !== before.code) await refuseTakenCode(tx, programId, code, locusId);
      const alleles = new Map(
        input.alleles.flatMap((allele) =>
          allele.was && allele.was !== allele.name ? [[allele.was, allele.name] as const] : [],
        ),
      );
      await tx.locus.update({
        where: { programId_id: { programId, id: locusId } },
        data: { code, name, definition: await definitionOf(tx, programId, input) },
      });
      if (alleles.size > 0 || code !== before.code) {
        await rename(tx, programId, locusId, { before: before.code, after: code, alleles });
      }
      await refuseBrokenDefinitions(tx, programId);
      return { sentence: `Changed the gene ${name}`, result: { locusId } };
    });
  }

  remove(right: ProgramAccess, input: RemoveLocusInput): Promise<object> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'remove-locus' };
    return command(this.database, right, request, async (tx) => {
      const locus = await findLocus(tx, programId, input.locusId, 'input.locusId');
      await refuseUsed(tx, programId, locus);
      await tx.locus.delete({ where: { programId_id: { programId, id: locus.id } } });
      return { sentence: `Removed the gene ${locus.name}`, result: {} };
    });
  }

  setPair(right: ProgramAccess, input: SetLocusPairInput): Promise<{ pairId: string }> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'set-locus-pair' };
    return command(this.database, right, request, async (tx) => {
      if (input.firstId === input.secondId) {
        throw new UserError('BAD_USER_INPUT', 'A gene lies to itself as it lies.', {
          place: 'input.secondId',
          remedy: 'Choose two genes.',
        });
      }
      const one = await findLocus(tx, programId, input.firstId, 'input.firstId');
      const two = await findLocus(tx, programId, input.secondId, 'input.secondId');
      const { kind, chance } = input;
      if (kind === 'LINKED' && Fraction.parse(chance).compare(Fraction.half) > 0) {
        throw new UserError('BAD_USER_INPUT', `Two genes cannot lie ${chance} apart.`, {
          thing: chance,
          place: 'input.chance',
          remedy: 'At most 1/2: then they are passed on as if they lay on two chromosomes.',
        });
      }
      const [first, second] = [one, two].toSorted((a, b) => (a.id < b.id ? -1 : 1));
      const key = { programId, firstId: first.id, secondId: second.id };
      const data = { kind, chance, reason: input.reason || null };
      const pair = await tx.locusPair.upsert({
        where: { programId_firstId_secondId: key },
        create: { ...key, id: randomUUID(), ...data },
        update: data,
      });
      await refuseBrokenDefinitions(tx, programId);
      const says =
        kind === 'LINKED'
          ? `lie on one chromosome, ${chance} apart`
          : `may be one gene, ${chance} before the records`;
      return {
        sentence: `Set that ${one.name} and ${two.name} ${says}`,
        result: { pairId: pair.id },
      };
    });
  }

  removePair(right: ProgramAccess, input: RemoveLocusPairInput): Promise<object> {
    const { programId } = right;
    const request = { id: input.commandId, kind: 'remove-locus-pair' };
    return command(this.database, right, request, async (tx) => {
      const where = { programId_id: { programId, id: input.pairId } };
      const pair = await tx.locusPair.findUnique({ where });
      if (!pair) throw notFound('such pair of genes', 'input.pairId', 'Look at the genes again.');
      const names = await namesOfPair(tx, pair);
      await tx.locusPair.delete({ where });
      return {
        sentence: `Set that ${names.get(pair.firstId)} and ${names.get(pair.secondId)} lie apart`,
        result: {},
      };
    });
  }
}

interface LocusEntry {
  readonly id: string;
  readonly code: string;
  readonly name: string;
}

async function findLocus(
  tx: Tx,
  programId: string,
  id: string,
  place: string,
): Promise<LocusEntry> {
  const locus = await tx.locus.findUnique({ where: { programId_id: { programId, id } } });
  if (!locus) throw notFound('such gene', place, 'Choose one of the list.');
  return locus;
}

async function refuseTakenCode(
  tx: Tx,
  programId: string,
  code: string,
  own: string | null,
): Promise<void> {
  const taken = await tx.locus.findUnique({ where: { programId_code: { programId, code } } });
  if (!taken || taken.id === own) return;
  throw new UserError('CODE_TAKEN', `'${code}' is the gene ${taken.name} already.`, {
    thing: code,
    place: 'input.code',
    remedy: 'Choose another code, or change that gene.',
  });
}

/** What is kept of a gene. The commonest allele has what the others leave, where only they are told. */
async function definitionOf(
  tx: Tx,
  programId: string,
  input: AddLocusInput | EditLocusInput,
): Promise<LocusDefinition> {
  const [common, ...rarer] = input.alleles;
  const told = rarer.filter(({ frequency }) => frequency !== undefined);
  if (told.length > 0 && told.length < rarer.length) {
    const missing = rarer.find(({ frequency }) => frequency === undefined);
    throw new UserError('BAD_USER_INPUT', `How common '${missing?.name}' is is not said.`, {
      thing: missing?.name,
      place: 'input.alleles',
      remedy: 'Say it of every rarer form, or of none; 0 says that no founder carries it unseen.',
    });
  }
  const rest = told.reduce(
    (left, { frequency }) => left.minus(Fraction.parse(frequency ?? 0)),
    Fraction.one,
  );
  if (rest.compare(Fraction.zero) < 0) {
    throw new UserError('BAD_USER_INPUT', 'The rarer forms together are more than all copies.', {
      place: 'input.alleles',
      remedy: 'Let them add up to at most 1.',
    });
  }
  const animalIds = input.founderRule === 'ANY' ? [] : [...new Set(input.founderIds ?? [])];
  const known = await tx.animal.count({ where: { programId, id: { in: animalIds } } });
  if (known < animalIds.length) {
    throw notFound('such animal', 'input.founderIds', 'Choose founders of the list.');
  }
  return {
    alleles: input.alleles.map(({ name }) => name),
    inheritance: INHERITANCE[input.inheritance],
    ...(told.length > 0 && {
      frequencies: Object.fromEntries([
        [common.name, common.frequency ?? rest.toString()],
        ...rarer.map(({ name, frequency }) => [name, frequency ?? '0']),
      ]),
    }),
    ...(input.founderRule !== 'ANY' && { founders: { rule: input.founderRule, animalIds } }),
  };
}

/** Rules of traits, declarations and tests follow a gene and its alleles to their new names. */
async function rename(
  tx: Tx,
  programId: string,
  locusId: string,
  names: LocusNames,
): Promise<void> {
  for (const trait of await tx.trait.findMany({ where: { programId } })) {
    const definition = traitDefinitionSchema.parse(trait.definition);
    if (!lociOfRule(definition.when).includes(names.before)) continue;
    await tx.trait.update({
      where: { programId_id: { programId, id: trait.id } },
      data: { definition: { ...definition, when: renameInRule(definition.when, names) } as object },
    });
  }
  if (names.alleles.size === 0) return;
  await tx.$executeRaw`
    UPDATE observation SET value = jsonb_set(value, '{alleles}', (
      SELECT jsonb_agg(coalesce(${JSON.stringify(Object.fromEntries(names.alleles))}::jsonb ->> allele, allele) ORDER BY place)
      FROM jsonb_array_elements_text(value -> 'alleles') WITH ORDINALITY AS named(allele, place)))
    WHERE program_id = ${programId}::uuid AND locus_id = ${locusId}::uuid AND kind IN ('declaration', 'test')`;
}

/** Throws where a record, a trait or another gene names this one, and says which. */
async function refuseUsed(tx: Tx, programId: string, locus: LocusEntry): Promise<void> {
  const refuse = (named: string, remedy: string): never => {
    throw new UserError('CONFLICT', `The gene ${locus.name} cannot go: ${named}.`, {
      thing: locus.name,
      place: 'input.locusId',
      remedy,
    });
  };
  const traits = (await tx.trait.findMany({ where: { programId }, orderBy: { name: 'asc' } }))
    .filter(({ definition }) =>
      lociOfRule(traitDefinitionSchema.parse(definition).when).includes(locus.code),
    )
    .map(({ name }) => ({ code: name }));
  if (traits.length > 0) {
    refuse(`the rule of ${listOf(traits)} speaks of it`, 'Change or remove that first.');
  }
  const told = await tx.$queryRaw<{ code: string }[]>`
    SELECT DISTINCT a.code FROM observation o JOIN animal a ON a.program_id = o.program_id AND a.id = o.animal_id
    WHERE o.program_id = ${programId}::uuid AND o.locus_id = ${locus.id}::uuid ORDER BY a.code`;
  if (told.length > 0) {
    refuse(`it is told of ${listOf(told)}`, 'Take back these records first.');
  }
  const pair = await tx.locusPair.findFirst({
    where: { programId, OR: [{ firstId: locus.id }, { secondId: locus.id }] },
  });
  if (pair) {
    const other = pair.firstId === locus.id ? pair.secondId : pair.firstId;
    const names = await namesOfPair(tx, pair);
    refuse(`how it lies to ${names.get(other)} is set`, 'Take that out first.');
  }
}

/** The names of two genes by id, in one statement: two rows read beside each other would share one connection. */
async function namesOfPair(
  tx: Tx,
  { programId, firstId, secondId }: { programId: string; firstId: string; secondId: string },
): Promise<ReadonlyMap<string, string>> {
  const loci = await tx.locus.findMany({
    where: { programId, id: { in: [firstId, secondId] } },
    select: { id: true, name: true },
  });
  return new Map(loci.map(({ id, name }) => [id, name]));
}
