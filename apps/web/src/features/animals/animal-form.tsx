import { Caution } from '../../components/caution.js';
import { Choice } from '../../components/choice.js';
import { DraftForm } from '../../components/draft-form.js';
import { faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { type AnimalDraft, draftFaults, fieldOfPlace } from './animal-draft.js';
import { ParentsField } from './parents-field.js';

/** The form of an animal, new or known. `onSubmit` is given the draft and what it began from. */
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
  return (
    <DraftForm
      programId={props.programId}
      draftKey={props.draftKey}
      fresh={props.fresh}
      check={draftFaults}
      fieldOfPlace={fieldOfPlace}
      submitWords={props.submitWords}
      onSubmit={props.onSubmit}
    >
      {({ draft, change, faults }) => (
        <>
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
          {(['mothers', 'fathers'] as const).map((which) => (
            <ParentsField
              key={which}
              programId={props.programId}
              which={which}
              rows={draft[which]}
              onChange={(rows) => change({ [which]: rows })}
              faults={faults}
              childId={props.childId}
            />
          ))}
          <Field
            id="notes"
            label="Notes"
            lines={3}
            value={draft.notes}
            onChange={(notes) => change({ notes })}
            fault={faultAt(faults, 'notes')}
          />
        </>
      )}
    </DraftForm>
  );
}
