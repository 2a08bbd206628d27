import { useState } from 'react';
import { Band } from '../../components/band.js';
import { Code } from '../../components/code.js';
import { Field } from '../../components/field.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { FaultList } from './fault-list.js';
import { animals } from './file-sentence.js';
import { FitsTogether } from './fits-together.js';
import type { Correction, FileLook, ImportAnswer, Reading } from './import-documents.js';
import { MendFaults } from './mend-faults.js';
import { MendedCells } from './mended-cells.js';
import { askedNames, openNames, QuestionList } from './question-list.js';
import { ReadingTable } from './reading-table.js';

/** What looking at a file told, in the order in which it must be settled, and the act to write. */
export function LookAtFile(props: {
  readonly uploadId: string;
  readonly look: FileLook;
  readonly reading: Reading;
  readonly answers: readonly ImportAnswer[];
  readonly corrections: readonly Correction[];
  readonly working: boolean;
  readonly onReading: (change: Reading) => void;
  readonly onAnswers: (answers: readonly ImportAnswer[]) => void;
  readonly onCorrections: (corrections: readonly Correction[]) => void;
  readonly onWrite: (species: string, trust: number) => void;
}) {
  const { look, working } = props;
  const [species, setSpecies] = useState('');
  const [trust, setTrust] = useState('90');
  const fatal = look.faults.filter((fault) => fault.isFatal);
  const notes = look.faults.filter((fault) => !fault.isFatal);
  const asked = askedNames(look);
  const open = openNames(asked, props.answers);
  const tells = look.map.columns.some(({ field }) => field === 'genotype');
  const share = Number(trust.replace(',', '.')) / 100;
  const noSpecies = look.questions.find(({ kind }) => kind === 'NO_SPECIES');
  const needed =
    open.length > 0
      ? `Say above what to do with ${open.length === 1 ? open[0]?.name : `the ${open.length} names that are open`}.`
      : noSpecies && !species.trim()
        ? 'Write above of which species they are.'
        : tells && !(share >= 0 && share <= 1)
          ? 'Write above how far the genes are to be trusted: 0 to 100.'
          : '';
  const ready = !look.isBlocked && look.created + look.changed > 0;
  return (
    <>
      {fatal.length > 0 && (
        <Band
          title="To mend"
          note="Here, or in your file: then choose it again. All of them are here."
        >
          <MendFaults
            faults={fatal}
            working={working}
            onMend={(made) => props.onCorrections([...props.corrections, ...made])}
          />
        </Band>
      )}
      {props.corrections.length > 0 && (
        <Band title="Mended here" note="Your file itself stays as it is.">
          <MendedCells
            uploadId={props.uploadId}
            reading={props.reading}
            corrections={props.corrections}
            working={working}
            onCorrections={props.onCorrections}
          />
        </Band>
      )}
      <Band title="How it is read" note="Change what was taken wrongly: the file is read anew.">
        <ReadingTable look={look} onChange={props.onReading} />
      </Band>
      {(asked.length > 0 || noSpecies) && (
        <Band title="New to the program" note="The file names it; the program has no rule for it.">
          {asked.length > 0 && (
            <QuestionList
              questions={asked}
              known={look.known}
              answers={props.answers}
              onAnswers={props.onAnswers}
            />
          )}
          {noSpecies && (
            <Field
              id="file-species"
              label="Species of these animals"
              hint="The file does not say. The scientific name, such as Testudo hermanni."
              value={species}
              onChange={setSpecies}
            />
          )}
        </Band>
      )}
      {tells && look.created + look.changed > 0 && (
        <Band title="Genes as told" note="How far what the file says of them is believed.">
          <Field
            id="file-trust"
            label="Of 100 genes told in the file, how many are right"
            hint="What a seller or a notebook said is weighed by it. 90 is our guess, no source."
            inputMode="decimal"
            autoComplete="off"
            value={trust}
            onChange={setTrust}
          />
        </Band>
      )}
      {notes.length > 0 && (
        <Band title="Good to know" note="Does not stand in the way.">
          <FaultList faults={notes} />
        </Band>
      )}
      {ready && (
        <FitsTogether
          uploadId={props.uploadId}
          reading={props.reading}
          answers={props.answers}
          corrections={props.corrections}
          trust={share >= 0 && share <= 1 ? share : 0.9}
        />
      )}
      <Band title="What it would do">
        <ul className="sums">
          <li>
            <b>{look.created}</b> new
          </li>
          <li>
            <b>{look.changed}</b> changed
          </li>
          <li>
            <b>{look.leftAlone}</b> left as they are
          </li>
        </ul>
        {look.createdCodes.length > 0 && (
          <WhyDrawer of="new animals" label="Which are new">
            <p>
              {look.createdCodes.map((code, k) => (
                <span key={code}>
                  {k > 0 && ', '}
                  <Code code={code} />
                </span>
              ))}
              {look.created > look.createdCodes.length &&
                ` and ${look.created - look.createdCodes.length} more`}
            </p>
          </WhyDrawer>
        )}
        {look.changes.length > 0 && <Changes look={look} />}
      </Band>
      {ready && (
        <div className="write-bar">
          <p>
            {needed || (
              <>
                <b>All or none.</b> One step takes it back.
              </>
            )}
          </p>
          <button
            type="button"
            className="act"
            disabled={needed !== '' || working}
            onClick={() => props.onWrite(species.trim(), share)}
          >
            Write {animals(look.created + look.changed)}
          </button>
        </div>
      )}
    </>
  );
}

function Changes({ look }: { readonly look: FileLook }) {
  return (
    <WhyDrawer of="animals" label="What would change">
      <div className="scroll">
        <table className="changes">
          <caption>
            {look.changes.length < 200 ? 'Field by field.' : 'Field by field, the first 200.'}
          </caption>
          <thead>
            <tr>
              <th scope="col">Animal</th>
              <th scope="col">Field</th>
              <th scope="col">Is</th>
              <th scope="col">Would be</th>
            </tr>
          </thead>
          <tbody>
            {look.changes.map((change) => (
              <tr key={`${change.code} ${change.field}`}>
                <th scope="row">
                  <Code code={change.code} />
                </th>
                <td>{change.field}</td>
                <td>{change.before || <span className="soft">nothing</span>}</td>
                <td>{change.after || <span className="soft">nothing</span>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </WhyDrawer>
  );
}
