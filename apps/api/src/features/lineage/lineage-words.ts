import { chanceWords } from '@scutewright/basics';
import { isWorstTold } from '../../compute/pedigree-of.js';
import { candidatesOf, clutchesOf, unrecordedShare } from '../../snapshot/findings.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import type { Animal } from '../animals/animal.types.js';
import type { FatherChance } from './lineage.types.js';

/** Whose young an animal is, and how far the books go back. */
export function lineageSentence(
  snapshot: Snapshot,
  position: number,
  fathers: readonly FatherChance[],
  known: readonly number[],
): string {
  const { codes, names } = snapshot.animals;
  const call = (row: number) => names[row] ?? codes[row];
  const [sire] = candidatesOf(snapshot, snapshot.sires, position);
  const [dam] = candidatesOf(snapshot, snapshot.dams, position);
  const generations = known.filter((share) => share > 0).length;
  if (!sire && !dam) return `Nothing is recorded of the parents of ${call(position)}.`;
  const clutches = clutchesOf(snapshot, position);
  const mother = dam
    ? `${call(dam.position)}${dam.probability === 1 ? '' : ' (perhaps)'}`
    : 'a mother nobody recorded';
  const back = `the books go back ${generations} ${generations === 1 ? 'generation' : 'generations'}`;
  if (snapshot.animals.clutch[position] === NONE) {
    const of = clutches.map(
      ({ clutch, probability }) =>
        `${snapshot.clutches.codes[clutch] ?? 'a clutch without a code'} (${chanceWords(probability)})`,
    );
    const rest = unrecordedShare(clutches);
    if (rest > 0) of.push(`a clutch nobody recorded (${chanceWords(rest)})`);
    return `${call(position)} may be of ${of.join(' or ')}; ${back}.`;
  }
  if (fathers.length === 0)
    return `${call(position)} is a young of ${sire ? call(sire.position) : 'a father nobody recorded'} and ${mother}; ${back}.`;
  const [best] = fathers;
  const who = best.animal ? call(best.animal.position) : 'a male nobody recorded';
  const named = fathers.flatMap(({ animal }) => (animal ? [call(animal.position)] : []));
  const males = named.length === 1 ? named[0] : `one of ${named.length}`;
  const open = named.length < fathers.length ? ' or a male nobody recorded' : '';
  const father =
    best.after >= 1
      ? `${who}, by all records`
      : `${males}${open}, most likely ${who}, ${chanceWords(best.after)}`;
  return `${call(position)} is a young of ${mother}; its father is ${father}; ${back}.`;
}

/** F and what it rests on; `known`: share of ancestral places recorded, parents first. */
export function inbreedingSentence(value: number, known: readonly number[]): string {
  const generations = known.filter((share) => share > 0).length;
  if (generations === 0) {
    return 'Nothing is recorded of its parents, so its inbreeding is not known.';
  }
  const back = `our books go back ${generations} ${generations === 1 ? 'generation' : 'generations'}`;
  const parents = Math.round(known[0] * 100);
  const share = known[0] < 1 ? `, and of its parents ${parents} % are recorded` : '';
  if (value === 0) return `Its parents share no ancestor in our books; ${back}${share}.`;
  return `F is ${value.toFixed(3)}: about ${Math.round(value * 100)} in 100 of its genes came down twice from one ancestor; ${back}${share}.`;
}

/** What the figures of an animal's lineage take for granted. */
export function assumptionsOf(animal: Animal): string[] {
  const list = ['Animals whose parents are not recorded are taken as unrelated to each other.'];
  const clutches = clutchesOf(animal.snapshot, animal.position);
  if (clutches.length > 1) {
    list.push(
      `Figures are means over the ${clutches.length} clutches that it may be of, by their probabilities; mother and father of one clutch go together.`,
    );
  }
  if (animal.sire.candidates.length > 1) {
    list.push(
      'Figures of relatedness are means over its possible fathers, by their probabilities.',
    );
  }
  if (animal.sire.unrecorded > 0 && clutches.length > 0) {
    list.push('A male that nobody recorded is taken as a stranger.');
  }
  return list;
}

/** What relatedness between some animals takes for granted. */
export function kinAssumptions(snapshot: Snapshot, positions: readonly number[]): string[] {
  return [
    'Animals whose parents are not recorded are taken as unrelated to each other: what the books do not hold may still be so.',
    `A male that nobody recorded is taken as a stranger; ${
      isWorstTold(snapshot)
        ? 'where he may well have been one of your own, what that would make of two animals is said beside it.'
        : 'he may well have been one of your own, and too many of them are possible to tell what that would make of two animals.'
    }`,
    ...(mayShareClutch(snapshot, positions)
      ? [
          'Several of them may be of the same clutches. Each is taken by itself, so how those are related to each other is approximate: how many are of which clutch is not used.',
        ]
      : []),
  ];
}

/** True where two or more of the animals are of several possible clutches and have one of them in common. */
function mayShareClutch(snapshot: Snapshot, positions: readonly number[]): boolean {
  const clutches = [...new Set(positions)]
    .map((position) => clutchesOf(snapshot, position))
    .filter(({ length }) => length > 1)
    .flatMap((list) => list.map(({ clutch }) => clutch));
  return new Set(clutches).size < clutches.length;
}
