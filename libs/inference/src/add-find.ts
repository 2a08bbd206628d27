import type { ParentChoices, Parents } from './parent-choices.js';
import type { Find } from './program.js';
import type { ProgramDraft } from './program-draft.js';

/** Animals of one or another clutch; where the numbers are known, drawn without putting back. */
export function addFind(
  draft: ProgramDraft,
  choices: ParentChoices,
  find: Find,
  parents: Map<number, Parents | null>,
): void {
  const animals = find.animals.filter((animal) => draft.settings.include[animal]);
  if (animals.length === 0) return;
  const tied = find.counts !== null;
  const drawn = Array.from(animals, (animal) => {
    const { choice, parents: own } = choices.add(animal, find.clutches, tied ? null : find.weights);
    parents.set(animal, own);
    return choice;
  });
  if (!find.counts) return;
  const left = countVectors(find.counts);
  const place = new Map(left.map((vector, state) => [vector.join(), state]));
  let before = draft.builder.selector(left.length);
  const start = place.get([...find.counts].join());
  draft.builder.fill([before], ([state]) => Number(state === start));
  for (const choice of drawn) {
    const after = draft.builder.selector(left.length);
    draft.builder.fill([before, choice.variable, after], ([from, s, to]) => {
      const k = find.clutches.indexOf(choice.states[s].clutch);
      const vector = left[from];
      const total = vector.reduce((a, b) => a + b, 0);
      if (vector[k] === 0) return 0;
      const then = place.get(vector.map((count, i) => (i === k ? count - 1 : count)).join());
      return then === to ? vector[k] / total : 0;
    });
    before = after;
  }
}

/** Every vector from (0, .., 0) to `counts`. */
function countVectors(counts: Int32Array): number[][] {
  let vectors: number[][] = [[]];
  for (const count of counts) {
    vectors = vectors.flatMap((vector) =>
      Array.from({ length: count + 1 }, (_, value) => [...vector, value]),
    );
  }
  return vectors;
}
