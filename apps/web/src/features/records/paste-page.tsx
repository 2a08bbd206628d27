import { useRef, useState } from 'react';
import { Link } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Field } from '../../components/field.js';
import { Opening } from '../../components/opening.js';
import { SelectField } from '../../components/select-field.js';
import { addresses } from '../../lib/addresses.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { todayText } from '../../lib/calendar.js';
import { newCommandId } from '../../lib/command-id.js';
import { useTellDone } from '../../lib/done-context.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { useProgram } from '../../lib/program-context.js';
import { type EntryAnswer, RecordEntries } from '../../lib/record-entries.js';
import { useAct } from '../../lib/use-act.js';
import { PASTE_KINDS, type PasteKind } from './paste-kinds.js';
import { cellsOf, headings, LEFT_OUT, type PastedRow, readRows } from './pasted-rows.js';
import './write.css';

/** Of one sending. */
const MOST_ROWS = 500;

/** Lines out of a spreadsheet, looked at as a table before they are sent. */
export function PastePage() {
  const program = useProgram();
  const tellDone = useTellDone();
  const { run, running } = useAct(RecordEntries);
  const { draft, change, forget } = useKeptDraft(`${program.id} pasted rows`, {
    text: '',
    kind: '',
  });
  const kind = PASTE_KINDS.find(({ id }) => id === draft.kind) ?? PASTE_KINDS[0]!;
  const [chosen, setChosen] = useState<Readonly<Record<number, string>>>({});
  const [answers, setAnswers] = useState<ReadonlyMap<number, EntryAnswer>>(new Map());
  const [faults, setFaults] = useState<readonly ApiFault[]>([]);
  /** A line keeps its id while it is the same, so that sending again counts once. */
  const ids = useRef(new Map<string, string>());
  const lines = cellsOf(draft.text);
  const named = lines[0] ? headings(kind, lines[0]) : null;
  const cells = named ? lines.slice(1) : lines;
  const columns = (named ?? kind.guess(cells)).map((column, k) => chosen[k] ?? column);
  const rows = readRows(kind, cells, columns, todayText());
  const isWritten = (row: PastedRow) => {
    const state = answers.get(row.line)?.state;
    return state === 'WRITTEN' || state === 'DUPLICATE';
  };
  const ready = rows.filter((row) => row.entry !== null && !isWritten(row)).slice(0, MOST_ROWS);
  const wrong = rows.filter((row) => row.entry === null).length;
  const options = [...kind.columns, { value: LEFT_OUT, words: 'Leave out' }];
  const start = (changed: Partial<typeof draft>) => {
    change(changed);
    setAnswers(new Map());
    if (changed.kind !== undefined) setChosen({});
  };
  const idOf = (row: PastedRow) => {
    const key = `${row.line} ${JSON.stringify(row.entry)}`;
    const id = ids.current.get(key) ?? newCommandId();
    ids.current.set(key, id);
    return id;
  };
  const send = async () => {
    if (running || ready.length === 0) return;
    const entries = ready.flatMap((row) => (row.entry ? [{ id: idOf(row), ...row.entry }] : []));
    const outcome = await run(() => ({ programId: program.id, input: { entries } }));
    if (!outcome.done) {
      setFaults(outcome.faults);
      return;
    }
    setFaults([]);
    const given = outcome.data.recordEntries.answers;
    const byLine = new Map(answers);
    for (const [k, row] of ready.entries()) if (given[k]) byLine.set(row.line, given[k]);
    setAnswers(byLine);
    const done = given.filter(({ state }) => state !== 'NEEDS_DECISION').length;
    const left = given.length - done;
    tellDone({
      sentence: `${done} of ${given.length} rows written down${left > 0 ? `; ${left} want a look` : ''}.`,
    });
    if (left === 0 && wrong === 0) forget();
  };
  if (!program.mayWrite) return <Opening title="Paste many rows" sentence="Keepers write here." />;
  return (
    <>
      <Opening
        title="Paste many rows"
        trail={<Link to={addresses.writeDown(program.id)}>Write down</Link>}
        sentence="Sizes, clutches and hatchings out of a spreadsheet: nothing is written before you have looked."
      />
      <FaultNote faults={faults} />
      <div className="paste">
        <SelectField
          id="pasted-kind"
          label="What the rows are"
          value={kind.id}
          options={PASTE_KINDS.map(({ id, words }) => ({ value: id, words }))}
          onChange={(id) => start({ kind: id })}
        />
        <Field
          id="pasted"
          label="Rows, as you copied them"
          hint={kind.hint}
          lines={8}
          placeholder={kind.example}
          value={draft.text}
          onChange={(text) => start({ text })}
        />
        {rows.length > 0 && (
          <>
            <fieldset className="field plain-set">
              <legend className="lab">What the columns are</legend>
              <div className="columns">
                {placed(columns).map(({ value: column, at: k, key }) => (
                  <SelectField
                    key={key}
                    id={key}
                    label={named ? (lines[0]?.[k] ?? `Column ${k + 1}`) : `Column ${k + 1}`}
                    value={column}
                    options={options}
                    onChange={(value) => setChosen({ ...chosen, [k]: value })}
                  />
                ))}
              </div>
            </fieldset>
            <p role="status">
              <b>{rows.length === 1 ? 'One row' : `${rows.length} rows`}</b>
              {wrong > 0 ? `, ${wrong} to mend first.` : ', each can be read.'}
              {rows.length > MOST_ROWS && ` ${MOST_ROWS} are sent at once, the others after them.`}
            </p>
            <RowTable kind={kind} rows={rows} columns={columns} answers={answers} />
            <div className="acts">
              <button
                type="button"
                className="act"
                aria-disabled={running || ready.length === 0}
                onClick={send}
              >
                {running
                  ? 'Writing them down'
                  : ready.length === 0
                    ? 'Nothing left to write'
                    : `Write down ${ready.length === 1 ? 'one row' : `${ready.length} rows`}`}
              </button>
            </div>
          </>
        )}
      </div>
    </>
  );
}

function RowTable(props: {
  readonly kind: PasteKind;
  readonly rows: readonly PastedRow[];
  readonly columns: readonly string[];
  readonly answers: ReadonlyMap<number, EntryAnswer>;
}) {
  const words = placed(
    props.columns.map(
      (column) => props.kind.columns.find(({ value }) => value === column)?.words ?? 'Left out',
    ),
  );
  return (
    // A table wider than a phone is pushed sideways by itself; the keyboard reaches it too.
    <section className="scroll" tabIndex={0} aria-label="The rows as they are read">
      <table className="rows-sent">
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">What comes of it</th>
            {words.map(({ value, key }) => (
              <th scope="col" key={key}>
                {value}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {props.rows.map((row) => {
            const answer = props.answers.get(row.line);
            const isBad = row.faults.length > 0 || answer?.state === 'NEEDS_DECISION';
            return (
              <tr key={row.line} className={isBad ? 'bad' : undefined}>
                <th scope="row">{row.line}</th>
                <td className="outcome">{outcomeWords(row, answer)}</td>
                {words.map(({ at, key }) => (
                  <td key={key}>{row.cells[at] ?? ''}</td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** Columns with their place, which is the only name they have. */
function placed<Value>(columns: readonly Value[]): { value: Value; at: number; key: string }[] {
  return columns.map((value, at) => ({ value, at, key: `column-${at}` }));
}

const OUTCOMES = [
  ['measured', 'measured'],
  ['seen', 'seen'],
  ['laid', 'a clutch'],
  ['hatched', 'young'],
] as const;

function outcomeWords(row: PastedRow, answer: EntryAnswer | undefined) {
  if (row.faults.length > 0) return <b>{row.faults.join(' ')}</b>;
  if (!answer) return OUTCOMES.find(([said]) => row.entry && said in row.entry)?.[1] ?? '';
  if (answer.state === 'NEEDS_DECISION') {
    return (
      <>
        <b>{answer.sentence}</b> {answer.remedy}
      </>
    );
  }
  return `Written. ${answer.remarks.join(' ')}`.trim();
}
