import { AnimalPicks, codesIn } from '../../components/animal-picks.js';
import { CountField } from '../../components/count-field.js';
import { type FormFault, faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { NameField } from '../../components/name-field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { SelectField } from '../../components/select-field.js';
import type { TypedDate } from '../../lib/typed-date.js';
import { type CountsByTrait, controlId, type DraftValue, emptyValue } from './entry-draft.js';
import type { EntryField } from './entry-form.js';
import { FreeCodes } from './free-codes.js';
import type { Choices } from './record-documents.js';

/** One field of an entry, by its shape. */
export function EntryFieldControl(props: {
  readonly programId: string;
  readonly field: EntryField;
  readonly value: DraftValue | undefined;
  readonly onChange: (value: DraftValue) => void;
  readonly faults: readonly FormFault[];
  readonly choices: Choices | undefined;
  /** How many codes are wanted, where the form counts them. */
  readonly count?: number;
}) {
  const { programId, field, onChange, choices } = props;
  const value = props.value ?? emptyValue(field);
  const id = controlId(field.name);
  const common = {
    id,
    label: field.label,
    hint: field.hint,
    fault: faultAt(props.faults, id),
  };
  const text = typeof value === 'string' ? value : '';
  const list = Array.isArray(value) ? (value as readonly string[]) : [];
  const select = (options: readonly { value: string; words: string }[]) => (
    <SelectField
      {...common}
      value={text}
      none={field.none ?? 'Not known'}
      options={options}
      onChange={onChange}
    />
  );
  switch (field.shape) {
    case 'animal':
    case 'animals':
      return (
        <AnimalPicks
          {...common}
          programId={programId}
          codes={list}
          isSingle={field.shape === 'animal'}
          onChange={onChange}
        />
      );
    case 'pen':
      return select((choices?.yard.pens ?? []).map(penChoice));
    case 'gene':
      return select(
        (choices?.definitions.loci ?? []).map(({ code, name, alleles }) => ({
          value: code,
          words: `${name}: ${alleles.map((allele) => allele.name).join(', ')}`,
        })),
      );
    case 'choice':
      return select(field.options ?? []);
    case 'clutch':
      return <NameField {...common} value={text} onChange={onChange} options={clutches(choices)} />;
    case 'lot':
      return <NameField {...common} value={text} onChange={onChange} options={lots(choices)} />;
    case 'clutches':
      return <Ticks {...common} options={clutches(choices)} chosen={list} onChange={onChange} />;
    case 'lots':
      return lots(choices).length === 0 ? null : (
        <Ticks {...common} options={lots(choices)} chosen={list} onChange={onChange} />
      );
    case 'traits':
      return <Ticks {...common} options={traits(choices)} chosen={list} onChange={onChange} />;
    case 'trait-counts':
      return (
        <TraitCounts
          {...common}
          traits={traits(choices).map(({ name }) => name)}
          counts={value as CountsByTrait}
          onChange={onChange}
        />
      );
    case 'count':
      return <CountField {...common} value={text} onChange={onChange} />;
    case 'date':
      return <PartialDateField {...common} value={value as TypedDate} onChange={onChange} />;
    case 'tick':
      return (
        <div className="field">
          <label className="tick">
            <input
              id={id}
              type="checkbox"
              checked={value === true}
              onChange={(event) => onChange(event.target.checked)}
            />
            {field.label}
          </label>
        </div>
      );
    case 'codes':
      return (
        <FreeCodes
          {...common}
          programId={programId}
          codes={list}
          count={props.count}
          onChange={(next) => onChange(codesIn(next))}
        />
      );
    default:
      return (
        <Field
          {...common}
          autoComplete="off"
          inputMode={field.shape === 'number' ? 'decimal' : undefined}
          lines={field.shape === 'lines' ? 3 : undefined}
          value={text}
          onChange={onChange}
        />
      );
  }
}

const penChoice = (pen: Choices['yard']['pens'][number]) => ({
  value: pen.name,
  words: `${pen.name}${pen.isQuarantine ? ', quarantine' : ''}, ${pen.occupants.length} in it`,
});

interface Named {
  readonly name: string;
  readonly about: string;
}

function clutches(choices: Choices | undefined): Named[] {
  const sheets = (choices?.clutches.edges ?? []).map(({ node }) => node);
  return sheets
    .toSorted((a, b) => Number(a.stage === 'DONE') - Number(b.stage === 'DONE'))
    .flatMap(({ clutch, sentence }) =>
      clutch.code ? [{ name: clutch.code, about: sentence }] : [],
    );
}

const lots = (choices: Choices | undefined): Named[] =>
  (choices?.lots ?? []).map(({ code, count, pen }) => ({
    name: code,
    about: `${count} young${pen ? `, in ${pen}` : ''}`,
  }));

const traits = (choices: Choices | undefined): Named[] =>
  (choices?.definitions.traits ?? []).map(({ name }) => ({ name, about: '' }));

/** Several of a short list. */
function Ticks(props: {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly options: readonly Named[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
}) {
  const { chosen } = props;
  return (
    <fieldset className="field plain-set">
      <legend className="lab">{props.label}</legend>
      {props.hint && <span className="hint">{props.hint}</span>}
      {props.options.length === 0 && <p className="soft">There is none yet.</p>}
      <div className="ticks">
        {props.options.map(({ name, about }, k) => (
          <label className="tick" key={name}>
            <input
              id={k === 0 ? props.id : undefined}
              type="checkbox"
              checked={chosen.includes(name)}
              onChange={(event) =>
                props.onChange(
                  event.target.checked ? [...chosen, name] : chosen.filter((each) => each !== name),
                )
              }
            />
            <span>
              {name}
              {about && <span className="small soft block">{about}</span>}
            </span>
          </label>
        ))}
      </div>
      {props.fault && <span className="fault">{props.fault}</span>}
    </fieldset>
  );
}

function TraitCounts(props: {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly traits: readonly string[];
  readonly counts: CountsByTrait;
  readonly onChange: (counts: CountsByTrait) => void;
}) {
  return (
    <fieldset className="field plain-set">
      <legend className="lab">{props.label}</legend>
      {props.hint && <span className="hint">{props.hint}</span>}
      {props.traits.length === 0 && <p className="soft">No trait is defined yet.</p>}
      <div className="counts-by-trait">
        {props.traits.map((trait, k) => (
          <CountField
            key={trait}
            id={k === 0 ? props.id : `${props.id}-${k}`}
            label={trait}
            value={props.counts[trait] ?? ''}
            onChange={(count) => props.onChange({ ...props.counts, [trait]: count })}
          />
        ))}
      </div>
      {props.fault && <span className="fault">{props.fault}</span>}
    </fieldset>
  );
}
