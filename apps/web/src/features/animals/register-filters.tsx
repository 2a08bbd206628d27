import { type FormEvent, useEffect, useRef, useState } from 'react';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import type { RegisterView } from './register-address.js';

/** How long the typing must rest before the server is asked, in ms. */
const REST = 150;

/** Narrows the register as it is typed. Arrow down leads from the field into the rows. */
export function RegisterFilters(props: {
  readonly view: RegisterView;
  readonly change: (next: Partial<RegisterView>) => void;
}) {
  const { view, change } = props;
  const [text, setText] = useState(view.search);
  const written = useRef(view.search);
  // The address was changed from elsewhere: the search box, or the way back.
  useEffect(() => {
    if (view.search !== written.current) {
      written.current = view.search;
      setText(view.search);
    }
  }, [view.search]);
  useEffect(() => {
    const search = text.trim();
    if (search === written.current) return;
    const timer = setTimeout(() => {
      written.current = search;
      change({ search });
    }, REST);
    return () => clearTimeout(timer);
  });
  const submit = (event: FormEvent) => event.preventDefault();
  return (
    <form className="filters" aria-label="Narrow the register" onSubmit={submit}>
      <div className="grow">
        <Field
          id="narrow"
          label="Code or name"
          type="search"
          autoComplete="off"
          autoCapitalize="none"
          spellCheck="false"
          value={text}
          onChange={setText}
          onKeyDown={(event) => {
            if (event.key !== 'ArrowDown') return;
            event.preventDefault();
            document.querySelector<HTMLElement>('.register [data-row]')?.focus();
          }}
        />
      </div>
      <Choice
        label="Sex"
        value={view.sex}
        onChange={(sex) => change({ sex })}
        options={[
          { value: 'ALL', words: 'All' },
          { value: 'MALE', words: 'Male' },
          { value: 'FEMALE', words: 'Female' },
          { value: 'UNKNOWN', words: 'Unsexed' },
        ]}
      />
      {view.species && (
        <button type="button" className="act line" onClick={() => change({ species: '' })}>
          Only {view.species}: show every species
        </button>
      )}
    </form>
  );
}
