import { useId, useState } from 'react';
import type { ToldAnimal } from './start-documents.js';

/** More than so many are found by typing. */
const OFFERED = 24;

/** Several of a few animals, chosen by tapping. */
export function Chips(props: {
  readonly legend: string;
  readonly animals: readonly ToldAnimal[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: string[]) => void;
}) {
  const { animals, chosen } = props;
  const id = useId();
  const [typed, setTyped] = useState('');
  const part = typed.trim().toLowerCase();
  const isLong = animals.length > OFFERED;
  const found = animals.filter(
    (animal) => chosen.includes(animal.id) || animal.code.toLowerCase().includes(part),
  );
  // Those chosen stay in sight, whatever is typed.
  const shown = isLong
    ? found
        .toSorted((a, b) => Number(chosen.includes(b.id)) - Number(chosen.includes(a.id)))
        .slice(0, Math.max(OFFERED, chosen.length))
    : animals;
  return (
    <fieldset className="chips">
      <legend>{props.legend}</legend>
      {animals.length === 0 && <p className="soft">None told yet.</p>}
      {isLong && (
        <div className="field">
          <label htmlFor={id}>Part of the name</label>
          <input
            id={id}
            type="search"
            autoComplete="off"
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
          />
        </div>
      )}
      {shown.map((animal) => (
        <button
          key={animal.id}
          type="button"
          aria-pressed={chosen.includes(animal.id)}
          onClick={() =>
            props.onChange(
              chosen.includes(animal.id)
                ? chosen.filter((each) => each !== animal.id)
                : [...chosen, animal.id],
            )
          }
        >
          {animal.code}
        </button>
      ))}
      {found.length > shown.length && (
        <p className="small soft">{found.length - shown.length} more: type a part of the name.</p>
      )}
    </fieldset>
  );
}
