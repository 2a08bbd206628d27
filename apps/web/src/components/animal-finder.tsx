import { useDeferredValue, useState } from 'react';
import { ComboBox } from 'react-aria-components/ComboBox';
import { FieldError } from 'react-aria-components/FieldError';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox';
import { Popover } from 'react-aria-components/Popover';
import { Text } from 'react-aria-components/Text';
import { partialDateWords } from '../lib/date-words.js';
import { graphql, type ResultOf } from '../lib/graphql.js';
import { useRead } from '../lib/use-read.js';
import { SEX_WORDS, type Sex, SexShape } from './sex-shape.js';
import './animal-finder.css';

const FindAnimals = graphql(`
  query FindAnimals($programId: ID!, $search: String!) {
    animals(programId: $programId, search: $search, first: 8) {
      totalCount
      edges {
        node {
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
      }
    }
  }
`);

export type FoundAnimal = ResultOf<typeof FindAnimals>['animals']['edges'][number]['node'];

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
}

/**
 * A field that completes an animal's code or name as it is typed. The focus stays in the field;
 * arrow keys walk the list, Enter takes a line, Escape closes. Picking empties the field.
 */
export function AnimalFinder(props: AnimalFinderProps) {
  const [text, setText] = useState('');
  const search = useDeferredValue(text.trim());
  const { data, waiting } = useRead(
    FindAnimals,
    { programId: props.programId, search },
    search === '',
  );
  const found =
    search === '' || !data
      ? []
      : data.animals.edges.map((edge) => edge.node).filter((animal) => !props.isOut?.(animal));
  const left = data && search !== '' ? data.animals.totalCount - data.animals.edges.length : 0;
  return (
    <ComboBox
      className="field finder"
      items={found}
      inputValue={text}
      onInputChange={setText}
      value={null}
      onChange={(key) => {
        const animal = found.find((one) => one.id === key);
        if (!animal) return;
        setText('');
        props.onPick(animal);
      }}
      defaultFilter={() => true}
      allowsCustomValue
      allowsEmptyCollection={search !== ''}
      menuTrigger="input"
      isInvalid={props.fault !== undefined}
      validationBehavior="aria"
    >
      <Label className={props.labelHidden ? 'vh' : undefined}>{props.label}</Label>
      {props.hint && (
        <Text slot="description" className="hint">
          {props.hint}
        </Text>
      )}
      <Input
        id={props.id}
        placeholder={props.placeholder}
        autoComplete="off"
        autoCapitalize="none"
        spellCheck={false}
        onKeyDown={(event) => {
          const chosen = event.currentTarget.getAttribute('aria-activedescendant');
          if (event.key === 'Enter' && !chosen && text.trim()) {
            event.preventDefault();
            props.onEnterText?.(text.trim());
          }
        }}
      />
      <FieldError className="fault">{props.fault}</FieldError>
      <Popover className="found" placement="bottom end" offset={4}>
        <ListBox<FoundAnimal>
          renderEmptyState={() => (
            <p className="none">{waiting ? 'Looking' : `Nothing found for '${search}'.`}</p>
          )}
        >
          {(animal) => (
            <ListBoxItem id={animal.id} textValue={animal.code}>
              <SexShape sex={animal.sex.sex} />
              <span>
                <b className="code">
                  <Marked text={animal.code} part={search} />
                </b>{' '}
                {animal.name && <Marked text={animal.name} part={search} />}
                <span className="about">{aboutAnimal(animal)}</span>
              </span>
            </ListBoxItem>
          )}
        </ListBox>
        {left > 0 && <p className="none">{left} more: type on to narrow them.</p>}
      </Popover>
    </ComboBox>
  );
}

/** `female, hatched June 2011, Testudo hermanni`. */
function aboutAnimal(animal: FoundAnimal): string {
  const sex = SEX_WORDS[animal.sex.sex as Sex];
  const hatched = animal.hatched ? `, hatched ${partialDateWords(animal.hatched)}` : '';
  return `${sex}${hatched}, ${animal.species}`;
}

/** The text with the part that matched marked. */
function Marked({ text, part }: { readonly text: string; readonly part: string }) {
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
