import { chanceWords } from '@scutewright/basics';
import type { LookFigure, TraitFigure } from '../../compute/cross-task.js';
import type { TargetOdds } from './pairings.types.js';

/** The trait that most of the young would show. */
function likeliest(targets: readonly TargetOdds[]): TargetOdds | undefined {
  return [...targets].sort((a, b) => b.share.value - a.share.value)[0];
}

/** Of twenty drawn eggs, those that show the trait: the count that the tray draws. */
const shownEggs = ({ looks }: { looks: readonly { kind: string; eggs: number }[] }) =>
  looks.find(({ kind }) => kind === 'SHOWS')?.eggs ?? 0;

export function crossSentence(targets: readonly TargetOdds[], eggs: number): string {
  const best = likeliest(targets);
  if (!best) return 'The program has no trait yet, so there is nothing to reckon.';
  if (best.share.value === 0)
    return 'None of their eggs can show any trait of the program, as far as the records go.';
  const { trait, share, atLeastOne } = best;
  const drawn = shownEggs(best);
  if (drawn === 0) {
    return `Hardly any young from this pair can show a trait: ${trait.name} in ${share.said}; at least one in a clutch of ${eggs}: ${chanceWords(atLeastOne.value)}.`;
  }
  const about = share.about ? 'About ' : '';
  return `${about}${drawn} of 20 young from this pair should be ${trait.name}; at least one in a clutch of ${eggs}: ${chanceWords(atLeastOne.value)}.`;
}

export function crossCaveat(targets: readonly TargetOdds[]): string | null {
  const split = likeliest(targets);
  if (!split || shownEggs(split) === 0) return null;
  const never = split.cases.find(({ perEgg }) => perEgg.value === 0);
  return never
    ? `But it is all or nothing: in ${never.probability.said} cases the parents do not carry it, and then no egg of theirs ever shows ${split.trait.name}.`
    : null;
}

/** What the eye cannot tell: how many of the plain-looking young carry it. Null where none looks plain. */
export function plainSentence({ plainCarry, trait }: TraitFigure): string | null {
  if (plainCarry === null) return null;
  if (plainCarry.value === 0) return `No young that looks plain carries ${trait}.`;
  if (plainCarry.value === 1) return `Every young that looks plain carries ${trait} all the same.`;
  return `Of the young that look plain, ${plainCarry.said} ${plainCarry.said.startsWith('1 ') || plainCarry.said.includes(' 1 ') ? 'carries' : 'carry'} ${trait}; none can be told by the eye.`;
}

/** `chalk`, `carry it unseen`, `clear of it`. */
export function lookName({ kind, trait }: LookFigure): string {
  if (kind === 'SHOWS' || kind === 'OTHER') return trait ?? '';
  return kind === 'CARRIES' ? 'carry it unseen' : 'clear of it';
}

const COPIES = ['does not carry it', 'carries one copy', 'has two copies'];

/** Names the cases of a trait by what the uncertain parents would have to carry. */
export function caseWords(
  { cases, trait }: TraitFigure,
  codes: { readonly sire: string; readonly dam: string },
): string[] {
  const all = cases.flatMap(({ copies }) => copies);
  const isOpen = (side: 'sire' | 'dam') => new Set(all.map((each) => each[side])).size > 1;
  const manyfold = cases.filter(({ copies }) => copies.length > 1).length;
  return cases.map(({ copies, share }) => {
    if (copies.length === 1) {
      const said = (['sire', 'dam'] as const)
        .filter(isOpen)
        .map((side) => `${codes[side]} ${COPIES[copies[0][side]] ?? 'carries it'}`);
      if (said.length > 0) return `If ${said.join(' and ')}`;
    }
    if (copies.length > 1 && manyfold === 1 && cases.length > 1) return 'Otherwise';
    return share.value === 0
      ? `Cases in which no young shows ${trait}`
      : `Cases in which ${share.said} of the young ${share.said === 'all' ? 'show' : 'shows'} ${trait}`;
  });
}
