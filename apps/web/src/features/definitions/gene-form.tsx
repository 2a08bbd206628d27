import { AnimalFinder } from '../../components/animal-finder.js';
import { Choice } from '../../components/choice.js';
import { Code } from '../../components/code.js';
import { DraftForm } from '../../components/draft-form.js';
import { type FormFault, faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import type { Definitions } from './definition-documents.js';
import type { AlleleDraft, GeneDraft } from './gene-draft.js';

/** `input.alleles.1.frequency` is the field `gene-frequency-1`. */
function fieldOfPlace(place: string): string | undefined {
  const allele = /^input\.alleles\.(\d+)\.(name|frequency)$/.exec(place);
  if (allele) return `gene-${allele[2]}-${allele[1]}`;
  if (place === 'input.alleles') return 'gene-name-1';
  if (place.startsWith('input.founderIds')) return 'gene-founder';
  return { 'input.name': 'gene-name', 'input.code': 'gene-code' }[place];
}

/** The form of a gene: its name, how it is passed on, its forms, and which founders may carry it. */
export function GeneForm(props: {
  readonly programId: string;
  readonly draftKey: string;
  readonly fresh: GeneDraft;
  readonly definitions: Definitions;
  readonly onSubmit: (draft: GeneDraft) => Promise<readonly ApiFault[]>;
}) {
  return (
    <DraftForm
      programId={props.programId}
      draftKey={props.draftKey}
      fresh={props.fresh}
      fieldOfPlace={fieldOfPlace}
      submitWords="Keep the gene"
      onSubmit={props.onSubmit}
    >
      {({ draft, change, faults }) => (
        <>
          <Field
            id="gene-name"
            label="Name"
            hint="As you call it, such as pale."
            autoComplete="off"
            value={draft.name}
            onChange={(name) => change({ name })}
            fault={faultAt(faults, 'gene-name')}
          />
          <Field
            id="gene-code"
            label="Code"
            hint="Two or three letters, as in the genes column of a spreadsheet: pl."
            autoComplete="off"
            autoCapitalize="none"
            spellCheck="false"
            value={draft.code}
            onChange={(code) => change({ code })}
            fault={faultAt(faults, 'gene-code')}
          />
          <Choice
            label="Passed on"
            value={draft.inheritance}
            onChange={(inheritance) => change({ inheritance })}
            options={[
              { value: 'AUTOSOMAL', words: 'Alike in both sexes' },
              { value: 'X_LINKED', words: 'On the X' },
              { value: 'Z_LINKED', words: 'On the Z' },
            ]}
          />
          {draft.inheritance !== 'AUTOSOMAL' && (
            <p className="small">
              Where the warmth of the eggs decides the sex, as in tortoises, there is no sex
              chromosome for a gene to lie on: choose this for other animals only.
            </p>
          )}
          <Forms
            draft={draft}
            change={change}
            faults={faults}
            assumed={props.definitions.assumedFrequency}
          />
          <Choice
            label="Which founders may carry a rarer form"
            value={draft.founderRule}
            onChange={(founderRule) => change({ founderRule })}
            options={[
              { value: 'ANY', words: 'Any' },
              { value: 'ONLY', words: 'Only some' },
              { value: 'ALL_BUT', words: 'All but some' },
            ]}
          />
          {draft.founderRule !== 'ANY' && (
            <Founders
              programId={props.programId}
              draft={draft}
              change={change}
              definitions={props.definitions}
              faults={faults}
            />
          )}
        </>
      )}
    </DraftForm>
  );
}

type Change = (next: Partial<GeneDraft>) => void;

/** The forms (alleles) of the gene, the common one first, each rarer one with its share among founders. */
function Forms(props: {
  readonly draft: GeneDraft;
  readonly change: Change;
  readonly faults: readonly FormFault[];
  readonly assumed: number;
}) {
  const { draft, faults } = props;
  const { alleles } = draft;
  const set = (at: number, next: Partial<AlleleDraft>) =>
    props.change({ alleles: alleles.map((each, k) => (k === at ? { ...each, ...next } : each)) });
  const add = () => {
    const key = String(1 + Math.max(...alleles.map((each) => Number(each.key))));
    props.change({ alleles: [...alleles, { key, was: '', name: '', frequency: '' }] });
  };
  return (
    <fieldset className="ticks field">
      <legend className="lab">Its forms, the common one first</legend>
      <span className="hint">
        How common among founders: 1/20 or 0.05; 0 where none carries it unseen. Left empty, 1 in{' '}
        {Math.round(1 / props.assumed)} copies is assumed.
      </span>
      <ol className="forms">
        {alleles.map((allele, at) => (
          <li key={allele.key}>
            <Field
              id={`gene-name-${at}`}
              label={at === 0 ? 'Common form' : 'Rarer form'}
              autoComplete="off"
              autoCapitalize="none"
              spellCheck="false"
              value={allele.name}
              onChange={(name) => set(at, { name })}
              fault={faultAt(faults, `gene-name-${at}`)}
            />
            {at > 0 && (
              <Field
                id={`gene-frequency-${at}`}
                label="Share of the copies"
                autoComplete="off"
                value={allele.frequency}
                onChange={(frequency) => set(at, { frequency })}
                fault={faultAt(faults, `gene-frequency-${at}`)}
              />
            )}
            {at > 1 && (
              <button
                type="button"
                className="act quiet"
                onClick={() => props.change({ alleles: alleles.filter((_, k) => k !== at) })}
              >
                Take out<span className="vh"> the form {allele.name || at + 1}</span>
              </button>
            )}
          </li>
        ))}
      </ol>
      <button type="button" className="act quiet" onClick={add}>
        One more form
      </button>
    </fieldset>
  );
}

/** The founders that the rule names. */
function Founders(props: {
  readonly programId: string;
  readonly draft: GeneDraft;
  readonly change: Change;
  readonly faults: readonly FormFault[];
  readonly definitions: Definitions;
}) {
  const { draft, change } = props;
  const { founders } = draft;
  const known = new Set(props.definitions.founders.map(({ id }) => id));
  return (
    <div>
      <ul className="named">
        {founders.map(({ id, code }) => (
          <li key={id}>
            <Code code={code} />
            <button
              type="button"
              className="act quiet"
              onClick={() => change({ founders: founders.filter((each) => each.id !== id) })}
            >
              Take out<span className="vh"> {code}</span>
            </button>
          </li>
        ))}
      </ul>
      <AnimalFinder
        id="gene-founder"
        programId={props.programId}
        label={
          draft.founderRule === 'ONLY'
            ? 'A founder that may carry it'
            : 'A founder that is free of it'
        }
        hint="An animal without recorded parents. A parent nobody recorded is not bound by this."
        fault={faultAt(props.faults, 'gene-founder')}
        isOut={({ id }) => !known.has(id) || founders.some((each) => each.id === id)}
        onPick={({ id, code }) => change({ founders: [...founders, { id, code }] })}
      />
    </div>
  );
}
