import { useMemo, useState } from 'react';
import { AnimalLink } from '../../components/animal-link.js';
import { SEX_WORDS, SexShape } from '../../components/sex-shape.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { LineageAnswer, PlacedPair } from './lineage-documents.js';
import { withAllParents } from './with-all-parents.js';

interface Rung {
  readonly animal: NamedAnimal;
  readonly probability: number;
  /** Stands higher up already, and there with its parents. */
  readonly isAgain: boolean;
  readonly parents: readonly Rung[];
  /** How many rungs stand below. */
  readonly below: number;
  /** What no recorded male, or female, accounts for. */
  readonly nobody: { readonly male: number; readonly female: number };
}

/** Generations that stand open: further back a list of hundreds is opened one branch at a time. */
const OPEN = 4;

/** The chart as nested lists: each animal, and below it its possible parents. */
export function LineageLadder(props: {
  readonly programId: string;
  readonly lineage: LineageAnswer;
  /** How many generations back were asked for. */
  readonly back: number;
  /** With every branch open, as on paper. */
  readonly isWhole?: boolean;
}) {
  const { lineage, back } = props;
  const rung = useMemo(() => ladder(lineage, back), [lineage, back]);
  return (
    <ul className="ladder">
      <RungLine
        programId={props.programId}
        rung={rung}
        open={props.isWhole ? Number.POSITIVE_INFINITY : OPEN}
      />
    </ul>
  );
}

function RungLine(props: {
  readonly programId: string;
  readonly rung: Rung;
  /** How many more generations stand open. */
  readonly open: number;
}) {
  const { programId, rung, open } = props;
  const { animal, probability, parents, nobody } = rung;
  const [wasOpened, setOpened] = useState(false);
  const above = () => (
    <ul>
      {parents.map((parent) => (
        <RungLine
          key={parent.animal.id}
          programId={programId}
          rung={parent}
          open={wasOpened ? OPEN - 1 : open - 1}
        />
      ))}
      <Nobody words="a male nobody recorded" probability={nobody.male} />
      <Nobody words="a female nobody recorded" probability={nobody.female} />
    </ul>
  );
  const sex = animal.sex.sex;
  return (
    <li>
      <span className="rung">
        <SexShape sex={sex} />
        <span>
          <span className="vh">{SEX_WORDS[sex]} </span>
          <AnimalLink programId={programId} animal={animal} />
          {rung.isAgain && <span className="small soft"> again, see above</span>}
        </span>
        {probability < 1 && <b>{chanceWords(probability)}</b>}
      </span>
      {parents.length > 0 &&
        (open > 0 ? (
          above()
        ) : (
          <details onToggle={() => setOpened(true)}>
            <summary>
              {rung.below} further back<span className="vh"> from {animal.code}</span>
            </summary>
            {wasOpened && above()}
          </details>
        ))}
    </li>
  );
}

function Nobody(props: { readonly words: string; readonly probability: number }) {
  if (props.probability <= 0) return null;
  return (
    <li>
      <span className="rung nobody">
        <span>{props.words}</span>
        <b>{chanceWords(props.probability)}</b>
      </span>
    </li>
  );
}

function ladder(lineage: LineageAnswer, back: number): Rung {
  const { animal, animals, pairs } = lineage;
  const whole = withAllParents(lineage, back);
  const byId = new Map(animals.map((placed) => [placed.animal.id, placed.animal]));
  const pairsOf = new Map<string, PlacedPair[]>();
  for (const pair of pairs)
    for (const { animalId } of pair.young)
      pairsOf.set(animalId, [...(pairsOf.get(animalId) ?? []), pair]);
  const seen = new Set<string>();
  const rung = (of: NamedAnimal, probability: number): Rung => {
    const isAgain = seen.has(of.id);
    seen.add(of.id);
    const own = isAgain ? [] : (pairsOf.get(of.id) ?? []);
    const parents = own.flatMap((pair) => pair.parents);
    const known = parents.flatMap((parent) => {
      const named = byId.get(parent.animalId);
      return named ? [{ named, probability: parent.probability }] : [];
    });
    const sum = (sex: string) =>
      known.reduce((all, one) => all + (one.named.sex.sex === sex ? one.probability : 0), 0);
    // Rounding leaves crumbs that are nobody.
    const rest = (sum: number) => (whole.has(of.id) && sum > 0 && sum < 0.9995 ? 1 - sum : 0);
    const above = known
      .toSorted((a, b) => b.probability - a.probability)
      .map((parent) => rung(parent.named, parent.probability));
    return {
      animal: of,
      probability,
      isAgain,
      parents: above,
      below: above.reduce((sum, one) => sum + 1 + one.below, 0),
      nobody: { male: rest(sum('MALE')), female: rest(sum('FEMALE')) },
    };
  };
  return rung(animal, 1);
}
