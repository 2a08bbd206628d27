import { type KeyboardEvent, type PointerEvent, type ReactNode, useId, useState } from 'react';
import './completing-field.css';
import './field.css';

export interface CompletingFieldProps<Option> {
  /** Of the control, so that a summary of errors can point at it. */
  readonly id: string;
  readonly label: string;
  /** Hides the label from sight, not from screen readers. */
  readonly labelHidden?: boolean;
  readonly hint?: string;
  readonly placeholder?: string;
  readonly fault?: string;
  readonly text: string;
  readonly onText: (text: string) => void;
  /** What the text may mean, best first. */
  readonly options: readonly Option[];
  readonly optionKey: (option: Option) => string;
  readonly drawOption: (option: Option) => ReactNode;
  readonly onPick: (option: Option) => void;
  /** Enter with no line chosen. */
  readonly onEnterText?: (text: string) => void;
  /** The field is left with this text in it. */
  readonly onLeave?: (text: string) => void;
  /** Said under the list, and to screen readers: how many, none, or still looking. */
  readonly note: string;
}

/**
 * A text field that offers what may be meant, after the combobox pattern of the ARIA Authoring
 * Practices: the focus stays in the field, arrow keys walk the list, Enter takes a line, Escape
 * closes the list, then empties the field.
 */
export function CompletingField<Option>(props: CompletingFieldProps<Option>) {
  const { id, text, options } = props;
  const listId = useId();
  const hintId = useId();
  const faultId = useId();
  const [open, setOpen] = useState(false);
  const [at, setAt] = useState(-1);
  const shown = open && text.trim() !== '';
  const chosen = shown ? options[at] : undefined;
  const pick = (option: Option) => {
    setOpen(false);
    setAt(-1);
    props.onText('');
    props.onPick(option);
  };
  const walk = (event: KeyboardEvent, to: number) => {
    event.preventDefault();
    setOpen(true);
    setAt(to);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.nativeEvent.isComposing) return;
    if (event.key === 'ArrowDown') walk(event, at + 1 < options.length ? at + 1 : 0);
    else if (event.key === 'ArrowUp') walk(event, at > 0 ? at - 1 : options.length - 1);
    else if (event.key === 'Escape') {
      event.preventDefault();
      if (shown) setOpen(false);
      else props.onText('');
      setAt(-1);
    } else if (event.key === 'Enter' && text.trim() !== '') {
      event.preventDefault();
      if (chosen !== undefined) pick(chosen);
      else if (props.onEnterText) {
        setOpen(false);
        props.onEnterText(text.trim());
      } else setOpen(true);
    }
  };
  const optionId = (option: Option) => `${listId}-${props.optionKey(option)}`;
  // A list of choices whose focus stays in the field: no element of HTML is one.
  const list = { role: 'listbox', id: listId, 'aria-label': props.label };
  const line = (option: Option, k: number) => ({
    id: optionId(option),
    role: 'option',
    'aria-selected': k === at,
    children: props.drawOption(option),
    // Before the field loses the focus, which would close the list.
    onPointerDown: (event: PointerEvent) => event.preventDefault(),
    onPointerMove: () => k !== at && setAt(k),
    onClick: () => pick(option),
  });
  const described = [props.hint && hintId, props.fault && faultId].filter(Boolean).join(' ');
  return (
    <div className="field completing">
      <label htmlFor={id} className={props.labelHidden ? 'vh' : undefined}>
        {props.label}
      </label>
      {props.hint && (
        <span className="hint" id={hintId}>
          {props.hint}
        </span>
      )}
      <input
        id={id}
        role="combobox"
        aria-autocomplete="list"
        aria-expanded={shown}
        aria-controls={listId}
        aria-activedescendant={chosen === undefined ? undefined : optionId(chosen)}
        aria-invalid={props.fault !== undefined || undefined}
        aria-describedby={described || undefined}
        placeholder={props.placeholder}
        autoComplete="off"
        autoCapitalize="none"
        autoCorrect="off"
        spellCheck={false}
        enterKeyHint="search"
        value={text}
        onChange={(event) => {
          props.onText(event.target.value);
          setOpen(true);
          setAt(-1);
        }}
        onFocus={() => setOpen(true)}
        onBlur={() => {
          setOpen(false);
          if (text.trim() !== '') props.onLeave?.(text.trim());
        }}
        onKeyDown={onKeyDown}
      />
      <div className="offered" hidden={!shown}>
        <div {...list}>
          {shown &&
            options.map((option, k) => <div key={props.optionKey(option)} {...line(option, k)} />)}
        </div>
        <p className="note">{props.note}</p>
      </div>
      <span className="vh" role="status">
        {shown ? props.note : ''}
      </span>
      {props.fault && (
        <span className="fault" id={faultId}>
          {props.fault}
        </span>
      )}
    </div>
  );
}
