import { nextCodes } from '../../lib/next-codes.js';
import { chosen, count, type Filled, type Option, type RoundField } from './act.js';
import { PictureField } from './picture-field.js';

/** One field of an act: large to touch, the right keyboard for what it asks. */
export function FieldOf(props: {
  readonly id: string;
  readonly field: RoundField;
  readonly isFirst: boolean;
  readonly filled: Filled;
  readonly nextCode: string;
  readonly onFill: (value: string) => void;
  readonly onTap: (value: string) => void;
  readonly onFault: (fault: string | null) => void;
}) {
  const { id, field, onFill } = props;
  const value = props.filled[field.name] ?? '';
  switch (field.kind) {
    case 'one':
      return (
        <fieldset className="taps">
          <legend>{field.label}</legend>
          {field.options.map((option) => (
            <button key={option.value} type="button" onClick={() => props.onTap(option.value)}>
              {option.words}
            </button>
          ))}
        </fieldset>
      );
    case 'choice':
      return (
        <Taps
          label={field.label}
          options={field.options}
          chosen={[value]}
          onTap={(option) => onFill(option === value ? '' : option)}
        />
      );
    case 'several': {
      const all = chosen(value);
      return (
        <Taps
          label={field.label}
          options={field.options}
          chosen={all}
          onTap={(option) =>
            onFill(
              (all.includes(option)
                ? all.filter((each) => each !== option)
                : [...all, option]
              ).join('\n'),
            )
          }
        />
      );
    }
    case 'tick':
      return (
        <label className="tick">
          <input
            type="checkbox"
            checked={value === 'yes'}
            onChange={(event) => onFill(event.target.checked ? 'yes' : '')}
          />
          {field.label}
        </label>
      );
    case 'number':
      return (
        <div className="field">
          <label htmlFor={id}>
            {field.label}
            {field.unit && ` in ${field.unit}`}
          </label>
          <input
            id={id}
            className={props.isFirst ? 'figure' : undefined}
            inputMode="decimal"
            autoComplete="off"
            enterKeyHint="done"
            // The one thing the tap on 'Weigh' asked for: the keyboard may come up at once.
            ref={props.isFirst ? focusOnce : undefined}
            value={value}
            onChange={(event) => onFill(event.target.value)}
          />
        </div>
      );
    case 'picture':
      return (
        <PictureField
          id={id}
          label={field.label}
          picture={value}
          onFill={onFill}
          onFault={props.onFault}
        />
      );
    case 'codes': {
      const free = nextCodes(
        props.nextCode,
        field.count ? (count(props.filled[field.count]) ?? 0) : 1,
      );
      return (
        <div className="field">
          <label htmlFor={id}>{field.label}</label>
          <input
            id={id}
            autoComplete="off"
            autoCapitalize="none"
            spellCheck={false}
            value={value}
            onChange={(event) => onFill(event.target.value)}
          />
          {free.length > 0 && (
            <button type="button" className="act line" onClick={() => onFill(free.join(', '))}>
              Give {free.length === 1 ? free[0] : `${free[0]} to ${free.at(-1)}`}
            </button>
          )}
        </div>
      );
    }
    default:
      return (
        <div className="field">
          <label htmlFor={id}>{field.label}</label>
          {field.kind === 'text' ? (
            <textarea
              id={id}
              rows={2}
              value={value}
              onChange={(event) => onFill(event.target.value)}
            />
          ) : (
            <input
              id={id}
              autoComplete="off"
              value={value}
              onChange={(event) => onFill(event.target.value)}
            />
          )}
        </div>
      );
  }
}

function Taps(props: {
  readonly label: string;
  readonly options: readonly Option[];
  readonly chosen: readonly string[];
  readonly onTap: (value: string) => void;
}) {
  return (
    <fieldset className="taps">
      <legend>{props.label}</legend>
      {props.options.map((option) => (
        <button
          key={option.value}
          type="button"
          aria-pressed={props.chosen.includes(option.value)}
          onClick={() => props.onTap(option.value)}
        >
          {option.words}
        </button>
      ))}
      {props.options.length === 0 && <p className="soft">There are none to choose from yet.</p>}
    </fieldset>
  );
}

function focusOnce(input: HTMLInputElement | null): void {
  input?.focus({ preventScroll: true });
}
