import type { PenFlag } from './pen-documents.js';

export interface FlagGroup {
  readonly key: string;
  readonly severity: PenFlag['severity'];
  readonly remedy: string;
  readonly source: string;
  /** Already possible on the day of the answer. */
  readonly isNow: boolean;
  /** The day the first of them may begin. */
  readonly from: string;
  readonly flags: readonly PenFlag[];
}

/**
 * Flags of one pen that say the same: one rule, one remedy, one source, all now or all later.
 * In the server's order, now before later.
 */
export function flagGroups(flags: readonly PenFlag[], day: string): FlagGroup[] {
  const groups = new Map<string, PenFlag[]>();
  for (const flag of flags) {
    const isNow = flag.possibleFrom <= day;
    const key = [isNow ? 'now' : 'later', flag.rule, flag.severity, flag.remedy, flag.source].join(
      '\n',
    );
    groups.set(key, [...(groups.get(key) ?? []), flag]);
  }
  return [...groups]
    .map(([key, own]): FlagGroup => {
      const [first] = own as [PenFlag, ...PenFlag[]];
      const from = own.map(({ possibleFrom }) => possibleFrom).toSorted()[0] ?? first.possibleFrom;
      return {
        key,
        severity: first.severity,
        remedy: first.remedy,
        source: first.source,
        isNow: first.possibleFrom <= day,
        from,
        flags: own,
      };
    })
    .toSorted((a, b) => Number(b.isNow) - Number(a.isNow));
}
