import { useId } from 'react';
import './choice.css';

/** One of a few, all in sight, side by side. Arrow keys move the choice. */
export function Choice<Value extends string>(props: {
  readonly label: string;
  readonly options: readonly { readonly value: Value; readonly words: string }[];
  readonly value: Value;
  readonly onChange: (value: Value) => void;
}) {
  const id = useId();
  return (
    <div className="field choice" role="radiogroup" aria-labelledby={id}>
      <span className="lab" id={id}>
        {props.label}
      </span>
      <div className="segments">
        {props.options.map(({ value, words }) => (
          <label key={value}>
            <input
              type="radio"
              name={id}
              value={value}
              checked={value === props.value}
              onChange={() => props.onChange(value)}
            />
            {words}
          </label>
        ))}
      </div>
    </div>
  );
}
