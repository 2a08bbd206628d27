import type { PenFlag, PenRuleState } from './pen-documents.js';
import { standsOn } from './yard-time.js';

/** What presses in one pen by one rule on a day: one number on the plan and in the list. */
export interface Clash {
  readonly number: number;
  readonly key: string;
  readonly pen: PenFlag['pen'];
  readonly title: string;
  readonly severity: PenFlag['severity'];
  readonly flags: readonly PenFlag[];
  /** Everybody in it, in the order of the flags. */
  readonly animals: readonly PenFlag['animals'][number][];
}

const RANK = { DANGER: 0, WARNING: 1, NOTE: 2 };

/** Dangers and warnings that stand on a day, one a pen and rule, the worst first. Notes are told with their pen alone. */
export function clashesOn(
  flags: readonly PenFlag[],
  rules: readonly PenRuleState[],
  day: string,
): Clash[] {
  const groups = new Map<string, PenFlag[]>();
  for (const flag of flags) {
    if (flag.severity === 'NOTE' || !standsOn(flag, day)) continue;
    const key = `${flag.pen.id} ${flag.rule}`;
    groups.set(key, [...(groups.get(key) ?? []), flag]);
  }
  const order = (rule: string) => rules.findIndex((each) => each.rule === rule);
  return [...groups]
    .toSorted(
      ([, [a]], [, [b]]) =>
        RANK[a?.severity ?? 'NOTE'] - RANK[b?.severity ?? 'NOTE'] ||
        order(a?.rule ?? '') - order(b?.rule ?? ''),
    )
    .map(([key, own], at): Clash => {
      const [first] = own as [PenFlag, ...PenFlag[]];
      const animals = new Map(own.flatMap((flag) => flag.animals).map((each) => [each.id, each]));
      return {
        number: at + 1,
        key,
        pen: first.pen,
        title: rules[order(first.rule)]?.title ?? first.rule,
        severity: first.severity,
        flags: own,
        animals: [...animals.values()],
      };
    });
}
