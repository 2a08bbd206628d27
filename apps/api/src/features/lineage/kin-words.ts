import type { PairFigure, PathFigure } from '../../compute/kin-task.js';
import { candidatesOf } from '../../snapshot/findings.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';

/** How two animals are related, as a breeder would say it; 'no shared parent in our books' is never 'unrelated'. */
export function kinWords(
  snapshot: Snapshot,
  { a, b, relatedness, lowest, highest }: PairFigure,
): string {
  const parentOf = (parent: number, young: number): string | null => {
    for (const [word, columns] of [
      ['father', snapshot.sires],
      ['mother', snapshot.dams],
    ] as const) {
      const candidate = candidatesOf(snapshot, columns, young).find(
        ({ position }) => position === parent,
      );
      if (candidate) return candidate.probability === 1 ? word : `possible ${word}`;
    }
    return null;
  };
  const { codes, clutch } = snapshot.animals;
  const up = parentOf(a, b);
  if (up) return `${codes[a]} is the ${up} of ${codes[b]}`;
  const down = parentOf(b, a);
  if (down) return `${codes[b]} is the ${down} of ${codes[a]}`;
  if (clutch[a] !== NONE && clutch[a] === clutch[b]) {
    const fathers = candidatesOf(snapshot, snapshot.sires, a).length;
    return lowest === highest || fathers <= 1
      ? 'clutch mates, full brother or sister'
      : `clutch mates with ${fathers} possible fathers: ${fullOrHalf(snapshot, clutch[a])}`;
  }
  const sides = (
    [
      ['father', snapshot.sires],
      ['mother', snapshot.dams],
    ] as const
  ).map(([word, columns]) => {
    const of = (animal: number) => candidatesOf(snapshot, columns, animal);
    const shared = of(a).filter(({ position }) =>
      of(b).some((other) => other.position === position),
    );
    if (shared.length === 0) return null;
    const isCertain = of(a)[0].probability === 1 && of(b)[0].probability === 1;
    return isCertain ? `the same ${word}` : `perhaps the same ${word}`;
  });
  const [father, mother] = sides;
  if (father === 'the same father' && mother === 'the same mother') return 'full brother or sister';
  if (father && mother) return `half brother or sister or full: ${father}, ${mother}`;
  if (father ?? mother)
    return `${father ?? mother}: ${(father ?? mother)?.startsWith('perhaps') ? 'perhaps ' : ''}half brother or sister`;
  if (highest === 0) return 'no shared parent in our books';
  if (relatedness >= 0.25) return 'closely related, as uncle and niece or closer';
  if (relatedness >= 0.125) return 'related, as first cousins or closer';
  return 'distantly related';
}

function fullOrHalf(snapshot: Snapshot, clutch: number): string {
  return snapshot.clutches.paternities[clutch] === 'ONE_SIRE'
    ? 'full brother or sister if one male fathered the clutch'
    : 'full or half brother or sister';
}

/** What a male nobody recorded would make of it, were he one of the program's own; empty where it makes no difference. */
function worstSentence({ worst, isWorstExact }: PairFigure): string {
  if (worst === null) return '';
  const F = worst / 2;
  return ` If a male nobody recorded was one of your own, F of their young may be as much as ${F.toFixed(3)}${isWorstExact ? '' : ' or more'}${likeWords(F)}.`;
}

/** As `worstSentence`, behind the words of a pair. */
export function nearerWords({ worst, isWorstExact }: PairFigure): string {
  if (worst === null) return '';
  const kin = kinOfYoung(worst / 2);
  const near = kin ? `as near as ${kin}` : 'near kin';
  return `; perhaps ${near}${isWorstExact ? '' : ' or nearer'}, if a male nobody recorded was one of your own`;
}

/** F of the young of two animals as a sentence with what it compares to. */
export function youngSentence(figure: PairFigure): string {
  const [F, lowest, highest] = [figure.relatedness, figure.lowest, figure.highest].map(
    (a) => a / 2,
  );
  if (highest === 0) return `The two share no ancestor in our books.${worstSentence(figure)}`;
  const range =
    highest - lowest > 1e-9
      ? `, from ${lowest.toFixed(3)} to ${highest.toFixed(3)} over the possible fathers`
      : '';
  return `Their young would have F ${F.toFixed(3)}${likeWords(F)}${range}.${worstSentence(figure)}`;
}

function likeWords(F: number): string {
  const kin = kinOfYoung(F);
  return kin ? `, as the young of ${kin}` : '';
}

/** The kin whose young have such an F, at least first cousins. */
function kinOfYoung(F: number): string | null {
  if (F >= 0.2499) return 'brother and sister';
  if (F >= 0.1249) return 'half brother and sister';
  return F >= 0.0624 ? 'first cousins' : null;
}

/** How two animals are related and over whom; 'no ancestor in our books' is never 'unrelated'. */
export function pathsSentence(
  snapshot: Snapshot,
  figure: PairFigure,
  paths: readonly PathFigure[],
  remainder: number,
): string {
  const { codes } = snapshot.animals;
  const words = kinWords(snapshot, figure);
  const pair = `${codes[figure.a]} and ${codes[figure.b]}`;
  const kin =
    words.startsWith(codes[figure.a]) || words.startsWith(codes[figure.b])
      ? words
      : `${pair}: ${words}`;
  if (paths.length === 0) {
    return `${kin}. They share no ancestor in our books, which is not to say that they are unrelated.${worstSentence(figure)}`;
  }
  const shared = [...new Set(paths.map(({ ancestor }) => ancestor))];
  const named = shared
    .slice(0, 3)
    .map((row) => (row === null ? 'an animal nobody recorded' : codes[row]));
  const more = shared.length > 3 ? ` and ${shared.length - 3} more` : '';
  const count = paths.length === 1 ? 'one path' : `${paths.length} paths`;
  return `${kin}. ${remainder > 0 ? `The ${count} that count most lead` : paths.length === 1 ? 'One path leads' : `${count} lead`} over ${named.join(', ')}${more}.${worstSentence(figure)}`;
}
