import { addAnimal, addVariables } from './add-animal.js';
import { addCount } from './add-count.js';
import { addFind } from './add-find.js';
import { addParentage } from './add-parentage.js';
import type { CompileSettings } from './compile-settings.js';
import type { CompiledProgram } from './compiled-program.js';
import type { Evidence } from './evidence.js';
import { FoldedFamilies } from './folded-families.js';
import { ParentChoices, type Parents } from './parent-choices.js';
import type { Program } from './program.js';
import { ProgramDraft } from './program-draft.js';

/** Translates a program into variables and tables. Cost: animals plus records, times small tables. */
export function compileProgram(
  program: Program,
  evidence: Evidence,
  settings: CompileSettings,
): CompiledProgram {
  const draft = new ProgramDraft(program, evidence, settings);
  const choices = new ParentChoices(draft);
  const families = new FoldedFamilies(draft);
  const mayHaveYoung = findParents(draft);
  // Animals with young are variables of their own; the others are summed out family by family.
  const own: number[] = [];
  const foldable: number[] = [];
  for (let animal = 0; animal < program.sex.length; animal++) {
    if (!settings.include[animal]) continue;
    (mayHaveYoung[animal] || !families.canFold(animal) ? own : foldable).push(animal);
  }
  for (const animal of own) addVariables(draft, animal);
  const parents = new Map<number, Parents | null>();
  for (const find of program.finds) addFind(draft, choices, find, parents);
  for (const animal of [...own, ...foldable]) {
    if (!parents.has(animal)) parents.set(animal, choices.of(animal));
  }
  for (const animal of own) addAnimal(draft, animal, parents.get(animal) ?? null);
  for (const animal of foldable) families.fold(animal, parents.get(animal) ?? null);
  for (const [index, record] of program.records.entries()) {
    if (settings.without?.[index]) continue;
    if (record.kind === 'count') addCount(draft, choices, families, index, record);
    if (record.kind === 'parentage') addParentage(draft, choices, index, record);
  }
  families.close();
  const jointChoices = settings.jointSires ? choices.join() : new Map();
  return {
    blocks: draft.blocks,
    network: draft.builder.build(),
    states: draft.builder.states,
    logConstant: draft.logConstant,
    readers: draft.readers,
    sireSelectors: choices.selectors('sire'),
    damSelectors: choices.selectors('dam'),
    choices: choices.list,
    jointChoices,
    doubtful: draft.doubtful,
    recordReaders: draft.recordReaders,
    variableOf: draft.findVariable,
    sexes: draft.sexes,
  };
}

/** By animal, 1: it may have young that take part or were counted, or it is to be kept. */
function findParents({ program, settings, findOf }: ProgramDraft): Uint8Array {
  const isParent = new Uint8Array(program.sex.length);
  const mark = (animals: Iterable<number>): void => {
    for (const animal of animals) if (animal >= 0) isParent[animal] = 1;
  };
  const used = new Uint8Array(program.clutches.length);
  for (let animal = 0; animal < program.sex.length; animal++) {
    if (!settings.include[animal]) continue;
    const find = findOf.get(animal);
    if (find) for (const clutch of find.clutches) used[clutch] = 1;
    else if (program.clutch[animal] >= 0) used[program.clutch[animal]] = 1;
    else mark([program.sire[animal], program.dam[animal]]);
  }
  for (const record of program.records) {
    if (record.kind === 'count') for (const clutch of record.clutches) used[clutch] = 1;
  }
  for (const [index, clutch] of program.clutches.entries()) {
    if (!used[index]) continue;
    mark(clutch.sires);
    mark(clutch.dams);
  }
  mark(settings.keep ?? []);
  return isParent;
}
