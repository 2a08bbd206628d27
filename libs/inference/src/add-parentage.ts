import { NOBODY } from './clutch-parents.js';
import type { YoungChoice } from './compiled-program.js';
import type { ParentChoices } from './parent-choices.js';
import type { ProgramRecord } from './program.js';
import type { ProgramDraft } from './program-draft.js';

/** A parentage test, on the variable that says who the parent is; a constant where that is certain. */
export function addParentage(
  draft: ProgramDraft,
  choices: ParentChoices,
  index: number,
  record: ProgramRecord & { kind: 'parentage' },
): void {
  const { animal, parent, role, confirmed } = record;
  if (!draft.settings.include[animal]) return;
  const weight = (isParent: boolean): number => {
    const right = isParent ? 1 - record.falseExclusion : record.falseConfirmation;
    return draft.own.soften(new Float64Array([confirmed ? right : 1 - right]))[0];
  };
  const weighStates = (variable: number, animals: readonly number[]): void => {
    const table = Float64Array.from(animals, (candidate) => weight(candidate === parent));
    draft.builder.factor([variable], table);
    draft.recordReaders.push({ record: index, kind: 'table', scope: [variable], table });
  };
  const choice = choices.list.find((entry) => entry.animal === animal);
  if (choice && role === 'sire') {
    weighStates(
      choice.variable,
      choice.states.map(({ source }) => source.animal),
    );
    return;
  }
  if (choice) {
    addDamTest(draft, choices, choice, parent, weight);
    return;
  }
  const clutch = draft.program.clutch[animal];
  if (clutch < 0) {
    const recorded = (role === 'sire' ? draft.program.sire : draft.program.dam)[animal];
    draft.builder.factor([], new Float64Array([weight(recorded === parent)]));
    return;
  }
  const parents = choices.parentsOfClutch(clutch);
  const selector = role === 'sire' ? parents.sireSelector : parents.damSelector;
  if (selector) {
    weighStates(selector.variable, selector.animals);
    return;
  }
  const { sires, dams, sireWeights, damWeights } = draft.program.clutches[clutch];
  const [list, weights] = role === 'sire' ? [sires, sireWeights] : [dams, damWeights];
  const only = list.findIndex((_, i) => weights[i] > 0);
  draft.builder.factor([], new Float64Array([weight(only >= 0 && list[only] === parent)]));
}

/** A dam test of a young that chooses its clutch: the dam is that of the clutch chosen. */
function addDamTest(
  draft: ProgramDraft,
  choices: ParentChoices,
  choice: YoungChoice,
  parent: number,
  weight: (is: boolean) => number,
): void {
  for (const clutch of new Set(choice.states.map((state) => state.clutch))) {
    const { damSelector } = choices.parentsOfClutch(clutch);
    const mine = (s: number): boolean => choice.states[s].clutch === clutch;
    if (damSelector) {
      draft.builder.fill([choice.variable, damSelector.variable], ([s, d]) =>
        mine(s) ? weight(damSelector.animals[d] === parent) : 1,
      );
    } else {
      const dams = draft.program.clutches[clutch].dams;
      const dam = dams.length > 0 ? dams[0] : NOBODY;
      draft.builder.fill([choice.variable], ([s]) => (mine(s) ? weight(dam === parent) : 1));
    }
  }
}
