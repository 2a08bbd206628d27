import type { ToldAnimal } from './start-documents.js';

/** Several of a few animals, chosen by tapping. */
export function Chips(props: {
  readonly legend: string;
  readonly animals: readonly ToldAnimal[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: string[]) => void;
}) {
  const { chosen } = props;
  return (
    <fieldset className="chips">
      <legend>{props.legend}</legend>
      {props.animals.length === 0 && <p className="soft">None told yet.</p>}
      {props.animals.map(({ id, code }) => (
        <button
          key={id}
          type="button"
          aria-pressed={chosen.includes(id)}
          onClick={() =>
            props.onChange(
              chosen.includes(id) ? chosen.filter((each) => each !== id) : [...chosen, id],
            )
          }
        >
          {code}
        </button>
      ))}
    </fieldset>
  );
}
