import { Label } from 'react-aria-components/Label';
import { Radio, RadioGroup } from 'react-aria-components/RadioGroup';
import './choice.css';

/** One of a few, all in sight, side by side. Arrow keys move the choice. */
export function Choice<Value extends string>(props: {
  readonly label: string;
  readonly options: readonly { readonly value: Value; readonly words: string }[];
  readonly value: Value;
  readonly onChange: (value: Value) => void;
}) {
  return (
    <RadioGroup
      className="field choice"
      value={props.value}
      onChange={(value) => props.onChange(value as Value)}
      orientation="horizontal"
    >
      <Label className="lab">{props.label}</Label>
      <div className="segments">
        {props.options.map((option) => (
          <Radio key={option.value} value={option.value}>
            {option.words}
          </Radio>
        ))}
      </div>
    </RadioGroup>
  );
}
