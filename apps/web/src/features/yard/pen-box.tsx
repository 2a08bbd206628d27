import { useState } from 'react';
import { Link } from 'react-router';
import { SEX_WORDS, type Sex, SexShape } from '../../components/sex-shape.js';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords } from '../../lib/date-words.js';

/** An animal or a lot that was chosen to be moved. */
export interface Chosen {
  readonly id: string;
  readonly code: string;
  readonly isLot: boolean;
}

interface ShownAnimal {
  readonly id: string;
  readonly code: string;
  readonly name: string | null;
  readonly sex: { readonly sex: Sex };
  readonly since?: string | null;
}

/** Before the rest is asked for. */
export const FIRST_SHOWN = 24;

/** One pen on the day shown: its animals and lots, each to be chosen. */
export function PenBox(props: {
  readonly programId: string;
  readonly title: string;
  readonly address?: string;
  readonly about: string;
  readonly animals: readonly ShownAnimal[];
  /** How many there are, where `animals` are only the first of them, and how to ask for the rest. */
  readonly count?: number;
  readonly askRest?: () => void;
  readonly lots: readonly { readonly id: string; readonly code: string; readonly count: number }[];
  readonly chosen: readonly Chosen[];
  /** Chooses, or no longer, each of these. */
  readonly turn: (these: readonly Chosen[]) => void;
  readonly mayWrite: boolean;
}) {
  const { programId, animals, lots, mayWrite } = props;
  const [isAll, setIsAll] = useState(false);
  const isChosen = (id: string) => props.chosen.some((one) => one.id === id);
  const left = animals.filter(({ id }) => !isChosen(id));
  const count = props.count ?? animals.length;
  const inIt = props.address ? `in ${props.title}` : 'in no pen';
  const shown = isAll ? animals : animals.slice(0, FIRST_SHOWN);
  return (
    <section className="pen-box" aria-label={props.title}>
      <header>
        <h2>{props.address ? <Link to={props.address}>{props.title}</Link> : props.title}</h2>
        <p className="small soft">
          {count === 1 ? '1 animal' : `${count} animals`}; {props.about}
        </p>
      </header>
      <ul>
        {shown.map((animal) => (
          <li key={animal.id}>
            {mayWrite && (
              <label className="pick">
                <input
                  type="checkbox"
                  checked={isChosen(animal.id)}
                  onChange={() => props.turn([{ id: animal.id, code: animal.code, isLot: false }])}
                />
                <span className="vh">Choose {animal.code}</span>
              </label>
            )}
            <Link to={addresses.animal(programId, animal.id)}>
              <SexShape sex={animal.sex.sex} />
              <span className="code">{animal.code}</span>
              <span className="vh">, {SEX_WORDS[animal.sex.sex]}</span>
              {animal.name && <span>{animal.name}</span>}
            </Link>
            {animal.since && (
              <span className="small soft">since {partialDateWords({ text: animal.since })}</span>
            )}
          </li>
        ))}
        {lots.map((lot) => (
          <li key={lot.id}>
            {mayWrite && (
              <label className="pick">
                <input
                  type="checkbox"
                  checked={isChosen(lot.id)}
                  onChange={() => props.turn([{ id: lot.id, code: lot.code, isLot: true }])}
                />
                <span className="vh">Choose lot {lot.code}</span>
              </label>
            )}
            <Link to={addresses.lot(programId, lot.id)}>
              Lot <span className="code">{lot.code}</span>
            </Link>
            <span className="small soft">{lot.count} young</span>
          </li>
        ))}
      </ul>
      {animals.length + lots.length === 0 && <p className="soft">Nobody is written there.</p>}
      {count > shown.length && (
        <button
          type="button"
          className="act quiet"
          onClick={() => {
            setIsAll(true);
            props.askRest?.();
          }}
        >
          {count - shown.length} more {inIt}
        </button>
      )}
      {mayWrite && animals.length === count && left.length > 1 && (
        <button
          type="button"
          className="act quiet"
          onClick={() => props.turn(left.map(({ id, code }) => ({ id, code, isLot: false })))}
        >
          Choose all<span className="vh"> {inIt}</span>
        </button>
      )}
    </section>
  );
}
