import type { Block } from './block.js';
import { BASE, chancesOf, type ParentSlots } from './fold-young.js';
import { newTable } from './network-builder.js';
import type { Parents } from './parent-choices.js';
import type { ProgramDraft } from './program-draft.js';

/** Gives an animal its variables, one a block, over the states that its own records allow. */
export function addVariables(draft: ProgramDraft, animal: number): void {
  const sex = draft.own.sexOf(animal);
  const alone = draft.own.groups[animal].filter(
    (group) => group.blocks.length === 1 && !group.bySex,
  );
  for (const [b, block] of draft.blocks.entries()) {
    const table = alone.find((group) => group.blocks[0] === b)?.m;
    const states: number[] = [];
    for (let state = 0; state < block.states; state++) {
      if (block.fits(state, sex) && (!table || table[state] > 0)) states.push(state);
    }
    // All states impossible: keep one, its weight 0 makes the total 0.
    if (states.length === 0) states.push(0);
    const variable = draft.builder.variable(Int32Array.from(states));
    draft.setVariable(animal, b, variable);
    draft.readers.push({ kind: 'variable', animal, block: b, variable });
  }
}

/** Base (or prior) of a founder, or the chances from its parents; then what the records say. */
export function addAnimal(draft: ProgramDraft, animal: number, parents: Parents | null): void {
  const { builder } = draft;
  const sex = draft.own.sexOf(animal);
  for (const [b, block] of draft.blocks.entries()) {
    const own = draft.variableOf(animal, b);
    if (!parents) {
      addFounder(draft, own, block.baseOf(sex), draft.own.priors.get(`${animal} ${b}`));
      continue;
    }
    addTransmission(draft, block, { sire: parents.sire[b], dam: parents.dam[b] }, own);
  }
  const groups = draft.own.groups[animal];
  for (const { record, blocks, m, f } of draft.own.likelihoods[animal]) {
    if (m !== f && !sex) continue;
    const table = draft.own.soften(sex === 'f' ? f : m);
    const scope = blocks.map((b) => draft.variableOf(animal, b));
    draft.recordReaders.push({
      record,
      kind: 'table',
      scope,
      table: onStates(draft, scope, blocks, table),
    });
  }
  let sexVariable = -1;
  if (!sex && (draft.blocks.some((block) => block.sexLinked) || groups.some((g) => g.bySex))) {
    sexVariable = builder.selector(2);
    draft.sexes.set(animal, sexVariable);
    builder.fill([sexVariable], () => 0.5);
    for (const [b, block] of draft.blocks.entries()) {
      if (!block.sexLinked) continue;
      builder.fill([sexVariable, draft.variableOf(animal, b)], ([s, state]) =>
        Number(block.fits(state, s === 0 ? 'm' : 'f')),
      );
    }
  }
  for (const group of groups) {
    const scope = group.blocks.map((b) => draft.variableOf(animal, b));
    const at = (states: Int32Array): number =>
      group.blocks.reduce((entry, b, k) => entry * draft.blocks[b].states + states[k], 0);
    if (group.bySex && sexVariable >= 0) {
      builder.fill(
        [...scope, sexVariable],
        (states) => (states[scope.length] === 0 ? group.m : group.f)[at(states)],
      );
    } else {
      const table = group[sex ?? 'm'];
      builder.fill(scope, (states) => table[at(states)]);
      if (scope.length === 1) noteDoubtful(draft, scope[0], table);
    }
  }
}

function addFounder(
  draft: ProgramDraft,
  own: number,
  base: Float64Array,
  prior: { table: Float64Array; record: number } | undefined,
): void {
  const table = prior?.table ?? base;
  draft.builder.fill([own], ([state]) => table[state]);
  // A prior is taken out by putting the base in its place.
  if (!prior || prior.record < 0) return;
  const states = draft.builder.states[own];
  const against = Float64Array.from(states, (state) => table[state] / base[state]);
  draft.recordReaders.push({ record: prior.record, kind: 'table', scope: [own], table: against });
}

/** States a tenth as likely as the likeliest, by the animal's own records. */
function noteDoubtful(draft: ProgramDraft, variable: number, table: Float64Array): void {
  const states = [...draft.builder.states[variable]];
  const largest = Math.max(...states.map((state) => table[state]));
  const out = states.flatMap((state, i) => (table[state] <= largest / 10 ? [i] : []));
  if (out.length > 0) draft.doubtful.set(variable, out);
}

/** A table over all states of the blocks as one over the states that the variables have. */
function onStates(
  draft: ProgramDraft,
  scope: readonly number[],
  blocks: readonly number[],
  table: Float64Array,
): Float64Array {
  let result = [0];
  for (const [k, variable] of scope.entries()) {
    const { states } = draft.blocks[blocks[k]];
    result = result.flatMap((at) =>
      Array.from(draft.builder.states[variable], (state) => at * states + state),
    );
  }
  return Float64Array.from(result, (at) => table[at]);
}

function addTransmission(draft: ProgramDraft, block: Block, slots: ParentSlots, own: number): void {
  const { builder } = draft;
  const list = (slot: number): Int32Array | null => (slot === BASE ? null : builder.states[slot]);
  const chances = chancesOf(block, list(slots.sire), list(slots.dam));
  const scope = [slots.sire, slots.dam].filter((slot) => slot !== BASE);
  const states = builder.states[own];
  const place = new Int32Array(block.states).fill(-1);
  for (const [index, state] of states.entries()) place[state] = index;
  const table = newTable([...scope, own].map((variable) => builder.size(variable)));
  for (const [row, young] of chances.entries()) {
    for (const [i, state] of young.states.entries()) {
      if (place[state] >= 0) table[row * states.length + place[state]] += young.probabilities[i];
    }
  }
  builder.factor([...scope, own], table);
}
