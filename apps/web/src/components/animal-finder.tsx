import { useDeferredValue, useState } from 'react';
import { partialDateWords } from '../lib/date-words.js';
import { graphql, type ResultOf } from '../lib/graphql.js';
import { useRead } from '../lib/use-read.js';
import { CompletingField } from './completing-field.js';
import { SEX_WORDS, SexShape } from './sex-shape.js';

/** What tells an animal from others in a list of those that may be meant. */
export const foundAnimal = graphql(`
  fragment FoundAnimal on Animal @_unmask {
    id
    code
    name
    species
    sex {
      sex
    }
    hatched {
      text
    }
  }
`);

const FindAnimals = graphql(
  `
    query FindAnimals($programId: ID!, $search: String!) {
      animals(programId: $programId, search: $search, first: 8) {
        totalCount
        edges {
          node {
            ...FoundAnimal
          }
        }
      }
    }
  `,
  [foundAnimal],
);

export type FoundAnimal = ResultOf<typeof foundAnimal>;

export interface AnimalFinderProps {
  /** Of the control, so that a summary of errors can point at it. */
  readonly id: string;
  readonly programId: string;
  readonly label: string;
  /** Hides the label from sight, not from screen readers. */
  readonly labelHidden?: boolean;
  readonly hint?: string;
  readonly placeholder?: string;
  readonly fault?: string;
  /** Leaves out animals that cannot be meant here. */
  readonly isOut?: (animal: FoundAnimal) => boolean;
  readonly onPick: (animal: FoundAnimal) => void;
  /** Enter with no line chosen. */
  readonly onEnterText?: (text: string) => void;
  /** The field is left with no line chosen; it is emptied. */
  readonly onLeave?: (text: string) => void;
}

/** A field that completes an animal's code or name as it is typed. Picking empties the field. */
export function AnimalFinder(props: AnimalFinderProps) {
  const { programId, isOut, ...field } = props;
  const [text, setText] = useState('');
  const search = useDeferredValue(text.trim());
  const { data, waiting, faults } = useRead(FindAnimals, { programId, search }, search === '');
  const nodes = search === '' || !data ? [] : data.animals.edges.map((edge) => edge.node);
  const found = nodes.filter((animal) => !isOut?.(animal));
  const left = (data?.animals.totalCount ?? 0) - nodes.length;
  const note = () => {
    if (faults[0]) return faults[0].message;
    if (waiting && !data) return 'Looking';
    if (found.length === 0) return `Nothing found for '${search}'.`;
    return left > 0 ? `${left} more: type on to narrow them.` : `${found.length} found.`;
  };
  return (
    <CompletingField
      {...field}
      text={text}
      onText={setText}
      options={found}
      optionKey={(animal) => animal.id}
      drawOption={(animal) => <AnimalOption animal={animal} part={search} />}
      onEnterText={
        props.onEnterText &&
        ((entered) => {
          setText('');
          props.onEnterText?.(entered);
        })
      }
      onLeave={
        props.onLeave &&
        ((left) => {
          setText('');
          props.onLeave?.(left);
        })
      }
      note={note()}
    />
  );
}

/** An animal as a line to choose; `part` of its code or name is marked. */
export function AnimalOption({
  animal,
  part,
}: {
  readonly animal: FoundAnimal;
  readonly part: string;
}) {
  return (
    <>
      <SexShape sex={animal.sex.sex} />
      <span>
        <b className="code">
          <Marked text={animal.code} part={part} />
        </b>{' '}
        {animal.name && <Marked text={animal.name} part={part} />}
        <span className="about">{aboutAnimal(animal)}</span>
      </span>
    </>
  );
}

/** `female, hatched June 2011, Testudo hermanni`. */
function aboutAnimal(animal: FoundAnimal): string {
  const sex = SEX_WORDS[animal.sex.sex];
  const hatched = animal.hatched ? `, hatched ${partialDateWords(animal.hatched)}` : '';
  return `${sex}${hatched}, ${animal.species}`;
}

/** The text with the part that matched marked. */
export function Marked({ text, part }: { readonly text: string; readonly part: string }) {
  const at = text.toLowerCase().indexOf(part.toLowerCase());
  if (at < 0 || part === '') return text;
  return (
    <>
      {text.slice(0, at)}
      <mark>{text.slice(at, at + part.length)}</mark>
      {text.slice(at + part.length)}
    </>
  );
}
