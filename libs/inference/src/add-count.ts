import type { Group } from './animal-evidence.js';
import type { ClutchParents } from './clutch-parents.js';
import { BASE, FoldedYoung } from './fold-young.js';
import type { FoldedFamilies } from './folded-families.js';
import { newTable } from './network-builder.js';
import type { ParentChoices } from './parent-choices.js';
import type { ProgramRecord } from './program.js';
import type { ProgramDraft } from './program-draft.js';

/** Unnamed young of a clutch, counted by what was seen on them. */
export function addCount(
  draft: ProgramDraft,
  choices: ParentChoices,
  families: FoldedFamilies,
  index: number,
  record: ProgramRecord & { kind: 'count' },
): void {
  const counted = new Map<FoldedYoung, { likelihood: Float64Array; number: number }[]>();
  const clutches = Array.from(record.clutches);
  const of = clutches.map((clutch) => choices.parentsOfClutch(clutch));
  draft.logConstant += logWays(record.groups.map((group) => group.number));
  for (const group of record.groups) {
    const seen = draft.evidence.countGroup(index, group);
    const joined = draft.own.withoutSex([
      {
        blocks: seen.blocks,
        m: draft.own.soften(seen.m),
        f: draft.own.soften(seen.f),
        informative: true,
        bySex: seen.m !== seen.f,
      },
    ])[0];
    if (group.looks.length === 0 || group.number === 0) continue;
    if (of.length === 1 && of[0].sire) {
      const family = families.of(joined.blocks, { sire: of[0].sire, dam: of[0].dam });
      family.add(joined.m, group.number);
      const groups = counted.get(family) ?? [];
      groups.push({ likelihood: joined.m, number: group.number });
      counted.set(family, groups);
    } else {
      addMixedCount(draft, joined, group.number, of, record.weights);
    }
  }
  if (counted.size === 1) {
    const [[family, groups]] = counted;
    draft.recordReaders.push({ record: index, kind: 'count', family, groups });
  }
}

/** Young that may be of several sires or clutches, alike in looks: one table over all of these parents. */
function addMixedCount(
  draft: ProgramDraft,
  group: Group,
  count: number,
  of: readonly ClutchParents[],
  weights: Float64Array,
): void {
  const { builder, blocks } = draft;
  const scope: number[] = [];
  const axis = (variable: number): number => {
    const at = scope.indexOf(variable);
    return at >= 0 ? at : scope.push(variable) - 1;
  };
  const terms = of.flatMap((parents, k) => {
    const dams = group.blocks.map((b) => parents.dam[b]);
    const mode = parents.sire ? -1 : parents.mode;
    const males: { chance: readonly number[]; sires: number[] }[] = parents.sire
      ? [{ chance: [1], sires: group.blocks.map((b) => parents.sire![b]) }]
      : parents.sources.map((source, place) => ({
          chance: parents.chance.map((row) => row[place]),
          sires: group.blocks.map((b) => parents.sourceAt(source, b)),
        }));
    return males.map(({ chance, sires }) => {
      const slots = group.blocks.map((_, i) => ({ sire: sires[i], dam: dams[i] }));
      const message = new FoldedYoung(
        group.blocks.map((b) => blocks[b]),
        slots,
        builder,
      ).message(group.m);
      const own = slots.flatMap(({ sire, dam }) => [sire, dam]).filter((slot) => slot !== BASE);
      return {
        message,
        axes: own.map(axis),
        mode: mode < 0 ? -1 : axis(mode),
        chance,
        weight: weights[k],
      };
    });
  });
  const sizes = scope.map((variable) => builder.size(variable));
  const table = newTable(sizes);
  const counter = new Int32Array(scope.length);
  for (let entry = 0; entry < table.length; entry++) {
    let sum = 0;
    for (const { message, axes, mode, chance, weight } of terms) {
      let at = 0;
      for (const a of axes) at = at * sizes[a] + counter[a];
      sum += weight * chance[mode < 0 ? 0 : counter[mode]] * message[at];
    }
    table[entry] = sum ** count;
    for (let k = scope.length - 1; k >= 0; k--) {
      if (++counter[k] < sizes[k]) break;
      counter[k] = 0;
    }
  }
  builder.factor(scope, table);
}

/** Logarithm of the number of ways in which the young can be shared out over the groups. */
function logWays(numbers: readonly number[]): number {
  let log = 0;
  let total = 0;
  for (const number of numbers) {
    for (let i = 1; i <= number; i++) log += Math.log(++total / i);
  }
  return log;
}
