import { useDeferredValue } from 'react';
import { Choice } from '../../components/choice.js';
import { DraftForm } from '../../components/draft-form.js';
import { type FormFault, faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { useRead } from '../../lib/use-read.js';
import { CheckTrait, type Definitions } from './definition-documents.js';
import { geneOf, genotypeWords } from './gene-words.js';
import { LooksTable } from './looks-table.js';
import { rulesText, type TraitDraft, traitFaults } from './trait-draft.js';

const FIELD_OF_PLACE: Record<string, string> = {
  'input.name': 'trait-name',
  'input.shows': 'trait-text',
  'input.description': 'trait-description',
  'input.misreadYoung': 'trait-young',
  'input.misreadAdult': 'trait-adult',
  'input.welfareNote': 'trait-harm',
  'input.welfareSource': 'trait-harm-source',
};

/** The form of a trait: who shows it, by plain choices or as a rule, and what that would mean, told as it is typed. */
export function TraitForm(props: {
  readonly programId: string;
  /** Null for a new one. */
  readonly traitId: string | null;
  readonly fresh: TraitDraft;
  readonly definitions: Definitions;
  readonly onSubmit: (draft: TraitDraft) => Promise<readonly ApiFault[]>;
}) {
  const { definitions } = props;
  return (
    <DraftForm
      programId={props.programId}
      draftKey={`trait ${props.traitId ?? 'new'}`}
      fresh={props.fresh}
      check={traitFaults}
      fieldOfPlace={(place) => FIELD_OF_PLACE[place]}
      submitWords="Keep the trait"
      onSubmit={props.onSubmit}
    >
      {({ draft, change, faults }) => {
        const field = (
          id: string,
          key:
            | 'name'
            | 'description'
            | 'misreadYoung'
            | 'misreadAdult'
            | 'welfareNote'
            | 'welfareSource',
          label: string,
          more: { hint?: string; lines?: number; inputMode?: 'decimal' } = {},
        ) => (
          <Field
            id={id}
            label={label}
            autoComplete="off"
            value={draft[key]}
            onChange={(text) => change({ [key]: text })}
            fault={faultAt(faults, id)}
            {...more}
          />
        );
        return (
          <>
            {field('trait-name', 'name', 'Name', { hint: 'As you write it down, such as pale.' })}
            <Choice
              label="Which animals show it"
              value={draft.by}
              onChange={(by) =>
                change({
                  by,
                  text: by === 'TEXT' ? rulesText(draft, definitions) || draft.text : draft.text,
                })
              }
              options={[
                { value: 'CHOICES', words: 'Choose' },
                { value: 'TEXT', words: 'Write a rule' },
              ]}
            />
            {draft.by === 'CHOICES' ? (
              <RuleChoices
                draft={draft}
                change={change}
                faults={faults}
                definitions={definitions}
              />
            ) : (
              <Field
                id="trait-text"
                label="The rule"
                hint="Such as: pl = p/p and age >= 730 (days). Join by and, or, not and brackets; several genotypes of one gene by |; sex = m or sex = f for one sex."
                lines={3}
                autoComplete="off"
                autoCapitalize="none"
                spellCheck="false"
                value={draft.text}
                onChange={(text) => change({ text })}
                fault={faultAt(faults, 'trait-text')}
              />
            )}
            <Meaning {...props} draft={draft} />
            {field('trait-description', 'description', 'What it looks like', { lines: 2 })}
            {field('trait-young', 'misreadYoung', 'Looks at young that are wrong, of 100', {
              hint: 'Under two years. 2 is our guess, no source; 0 says that a look is never wrong.',
              inputMode: 'decimal',
            })}
            {field('trait-adult', 'misreadAdult', 'Looks at grown animals that are wrong, of 100', {
              inputMode: 'decimal',
            })}
            {field('trait-harm', 'welfareNote', 'Harm that is known to come with it', {
              hint: 'Shown wherever the trait is bred for. A veterinarian judges; empty proves nothing.',
              lines: 2,
            })}
            {field('trait-harm-source', 'welfareSource', 'Where that stands')}
          </>
        );
      }}
    </DraftForm>
  );
}

/** Gene, genotypes, age and sex: the choices that most rules need. */
function RuleChoices(props: {
  readonly draft: TraitDraft;
  readonly change: (next: Partial<TraitDraft>) => void;
  readonly faults: readonly FormFault[];
  readonly definitions: Definitions;
}) {
  const { draft, change, faults, definitions } = props;
  const gene = geneOf(definitions, draft.geneId);
  const toggle = (genotype: string, isOn: boolean) =>
    change({
      genotypes: isOn
        ? [...draft.genotypes, genotype]
        : draft.genotypes.filter((each) => each !== genotype),
    });
  const fault = faultAt(faults, 'trait-genotype-0');
  return (
    <>
      <div className="field">
        <label htmlFor="trait-gene">Gene</label>
        <select
          id="trait-gene"
          value={draft.geneId}
          onChange={(event) => change({ geneId: event.target.value, genotypes: [] })}
        >
          {definitions.loci.map(({ id, name, code }) => (
            <option key={id} value={id}>
              {name} ({code})
            </option>
          ))}
        </select>
      </div>
      {gene && (
        <fieldset className="ticks field">
          <legend className="lab">It shows with</legend>
          {gene.looks.map(({ genotype }, at) => (
            <label className="tick" key={genotype}>
              <input
                id={`trait-genotype-${at}`}
                type="checkbox"
                checked={draft.genotypes.includes(genotype)}
                onChange={(event) => toggle(genotype, event.target.checked)}
              />
              <span>
                {genotypeWords(genotype, gene.alleles[0]?.name ?? '')}{' '}
                <span className="code soft">{genotype}</span>
              </span>
            </label>
          ))}
          {fault && <span className="fault">{fault}</span>}
        </fieldset>
      )}
      <Field
        id="trait-years"
        label="From which age on, in years"
        hint="Empty: from hatching."
        inputMode="decimal"
        autoComplete="off"
        value={draft.fromYears}
        onChange={(fromYears) => change({ fromYears })}
        fault={faultAt(faults, 'trait-years')}
      />
      <Choice
        label="In which sex"
        value={draft.sex}
        onChange={(sex) => change({ sex })}
        options={[
          { value: 'BOTH', words: 'Both' },
          { value: 'm', words: 'Males only' },
          { value: 'f', words: 'Females only' },
        ]}
      />
    </>
  );
}

/** What the rule would mean, looked at by the server while it is typed. */
function Meaning(props: {
  readonly programId: string;
  readonly traitId: string | null;
  readonly draft: TraitDraft;
  readonly definitions: Definitions;
}) {
  const shows = useDeferredValue(rulesText(props.draft, props.definitions).trim());
  const name = useDeferredValue(props.draft.name.trim());
  const { data } = useRead(
    CheckTrait,
    { programId: props.programId, input: { traitId: props.traitId, name, shows } },
    shows === '',
  );
  const check = shows === '' ? undefined : data?.checkTrait;
  return (
    <div className="made" role="status">
      {!check && <p className="soft">Here it is told what that means.</p>}
      {check?.said && <p className="said">{check.said}</p>}
      {check?.faults.map((fault) => (
        <p key={fault.message} className="fault">
          {fault.message} {fault.remedy}
        </p>
      ))}
      {check && check.looks.length > 0 && (
        <LooksTable gene={props.draft.name || 'the gene'} looks={check.looks} />
      )}
    </div>
  );
}
