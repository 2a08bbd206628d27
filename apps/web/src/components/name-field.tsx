import { CompletingField } from './completing-field.js';

/** A code or name out of a list that is already here, completed as it is typed; what is typed stands as it is. */
export function NameField(props: {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly options: readonly { readonly name: string; readonly about: string }[];
}) {
  const { value, options, onChange, ...field } = props;
  const typed = value.trim().toLowerCase();
  const found = options.filter(({ name }) => name.toLowerCase().includes(typed)).slice(0, 8);
  return (
    <CompletingField
      {...field}
      text={value}
      onText={onChange}
      options={found}
      optionKey={({ name }) => name}
      drawOption={({ name, about }) => (
        <span>
          <b className="code">{name}</b>
          <span className="about">{about}</span>
        </span>
      )}
      onPick={({ name }) => onChange(name)}
      onEnterText={onChange}
      note={found.length === 0 ? `Nothing found for '${value}'.` : `${found.length} found.`}
    />
  );
}
