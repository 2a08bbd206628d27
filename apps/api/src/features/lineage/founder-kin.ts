import type { FounderKinInput } from '@scutewright/commands';
import type { PairFigure } from '../../compute/kin-task.js';
import { pedigreeOf } from '../../compute/pedigree-of.js';
import { UserError } from '../../graphql/errors.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { positionOf } from '../animals/positions.js';

interface FounderKin {
  readonly a: number;
  readonly b: number;
  readonly relatedness: number;
}

/** Relatedness of full and half brother and sister. Source: Wright 1922, Am. Nat. 56:330-338. */
const RELATEDNESS = { FULL: 1 / 2, HALF: 1 / 4 } as const;

/** Two different founders of the program. Throws UserError with the place of the fault. */
export function readFounderKin(snapshot: Snapshot, input: FounderKinInput): FounderKin {
  const { sire, dam } = pedigreeOf(snapshot).pedigree;
  const founder = (id: string, place: string): number => {
    const row = positionOf(snapshot, id, place);
    if (sire[row] === -1 && dam[row] === -1) return row;
    throw new UserError(
      'BAD_USER_INPUT',
      `${snapshot.animals.codes[row]} has a recorded parent: its kin follow from the books.`,
      { place, remedy: 'Suppose this of two founders.', thing: snapshot.animals.codes[row] },
    );
  };
  const a = founder(input.founderId, 'input.founderId');
  const b = founder(input.otherFounderId, 'input.otherFounderId');
  if (a !== b) return { a, b, relatedness: RELATEDNESS[input.kinship] };
  throw new UserError('BAD_USER_INPUT', 'A founder is not its own kin.', {
    place: 'input.otherFounderId',
    remedy: 'Choose another founder.',
  });
}

/** What F of a young of the two would be, and what it is in the books. */
export function supposedKinSentence(
  { animals: { codes } }: Snapshot,
  kin: FounderKin,
  now: PairFigure,
  then: PairFigure,
): string {
  const words =
    kin.relatedness === RELATEDNESS.FULL
      ? 'full brother and sister, or parent and young'
      : 'half brother and sister';
  const young = `a young of ${codes[now.a]} and ${codes[now.b]}`;
  if (Math.abs(then.relatedness - now.relatedness) < 1e-12) {
    return `Were ${codes[kin.a]} and ${codes[kin.b]} ${words}, F of ${young} would stay ${(now.relatedness / 2).toFixed(3)}.`;
  }
  const range =
    then.highest - then.lowest > 1e-9
      ? ` (from ${(then.lowest / 2).toFixed(3)} to ${(then.highest / 2).toFixed(3)} over the possible fathers)`
      : '';
  return `Were ${codes[kin.a]} and ${codes[kin.b]} ${words}, F of ${young} would be ${(then.relatedness / 2).toFixed(3)}${range} instead of ${(now.relatedness / 2).toFixed(3)}.`;
}
