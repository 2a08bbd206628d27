import { type FormEvent, useState } from 'react';
import { Caution } from '../../components/caution.js';
import { Choice } from '../../components/choice.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { type AnimalDraft, draftFaults, fieldOfPlace } from './animal-draft.js';
import { ParentsField } from './parents-field.js';

/**
 * The form of an animal, new or known. What is typed is kept in this tab until it is written or
 * thrown away. `onSubmit` is given the draft and what it began from, and answers the server's
 * faults; none means it is done.
 */
export function AnimalForm(props: {
  readonly programId: string;
  /** Names the kept draft: one for each animal, one for a new one. */
  readonly draftKey: string;
  readonly fresh: AnimalDraft;
  readonly childId?: string;
  /** Code of its clutch, whose young share these parents. */
  readonly clutch?: string | null;
  readonly submitWords: string;
  readonly onSubmit: (draft: AnimalDraft, base: AnimalDraft) => Promise<ApiFault[]>;
}) {
  const { draft, base, change, wasKept, startAfresh, forget } = useKeptDraft(
    `${props.programId} ${props.draftKey}`,
    props.fresh,
  );
  const [faults, setFaults] = useState<FormFault[]>([]);
  const [writing, setWriting] = useState(false);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (writing) return;
    const own = draftFaults(draft);
    setFaults(own);
    if (own.length > 0) return;
    setWriting(true);
    const refused = await props.onSubmit(draft, base);
    setWriting(false);
    if (refused.length === 0) forget();
    else setFaults(formFaults(refused, fieldOfPlace));
  };
  const parents = (which: 'mothers' | 'fathers') => (
    <ParentsField
      programId={props.programId}
      which={which}
      rows={draft[which]}
      onChange={(rows) => change({ [which]: rows })}
      faults={faults}
      childId={props.childId}
    />
  );
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      {wasKept && (
        <p className="kept">
          What you typed before is still here.{' '}
          <button type="button" className="act quiet" onClick={startAfresh}>
            Start afresh
          </button>
        </p>
      )}
      <Field
        id="code"
        label="Code"
        hint="What stands on the animal, its box or its papers. No two share one."
        autoComplete="off"
        autoCapitalize="none"
        spellCheck="false"
        value={draft.code}
        onChange={(code) => change({ code })}
        fault={faultAt(faults, 'code')}
      />
      <Field
        id="name"
        label="Name, if it has one"
        autoComplete="off"
        value={draft.name}
        onChange={(name) => change({ name })}
        fault={faultAt(faults, 'name')}
      />
      <Field
        id="species"
        label="Species"
        hint="The scientific name, such as Testudo hermanni."
        autoComplete="off"
        value={draft.species}
        onChange={(species) => change({ species })}
        fault={faultAt(faults, 'species')}
      />
      <Choice
        label="Sex"
        value={draft.sex}
        onChange={(sex) => change({ sex })}
        options={[
          { value: 'UNKNOWN', words: 'Not yet sexed' },
          { value: 'FEMALE', words: 'Female' },
          { value: 'MALE', words: 'Male' },
        ]}
      />
      <Choice
        label="Where it comes from"
        value={draft.origin}
        onChange={(origin) => change({ origin })}
        options={[
          { value: 'HATCHED_HERE', words: 'Hatched here' },
          { value: 'ACQUIRED', words: 'From elsewhere' },
          { value: 'ANCESTOR_ONLY', words: 'Ancestor only' },
        ]}
      />
      <PartialDateField
        id="hatched"
        label="Hatched"
        value={draft.hatched}
        onChange={(hatched) => change({ hatched })}
        fault={faultAt(faults, 'hatched')}
      />
      {props.clutch && (
        <Caution kind="unknown" lead={`Its clutch ${props.clutch} shares these parents.`}>
          What you change here holds for every young one of that clutch.
        </Caution>
      )}
      {parents('mothers')}
      {parents('fathers')}
      <Field
        id="notes"
        label="Notes"
        lines={3}
        value={draft.notes}
        onChange={(notes) => change({ notes })}
        fault={faultAt(faults, 'notes')}
      />
      <div className="acts save">
        <button className="act" type="submit" aria-disabled={writing}>
          {writing ? 'Writing it down' : props.submitWords}
        </button>
      </div>
    </form>
  );
}
