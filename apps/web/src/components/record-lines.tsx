import { partialDateWords } from '../lib/date-words.js';
import { useTellDone } from '../lib/done-context.js';
import { graphql, type ResultOf } from '../lib/graphql.js';
import { useProgram } from '../lib/program-context.js';
import { useRead } from '../lib/use-read.js';
import { useUndo } from '../lib/use-undo.js';
import { FaultNote } from './fault-note.js';
import { Skeleton } from './skeleton.js';
import './record-lines.css';
import './why-drawer.css';

const RecordsQuery = graphql(`
  query Records($programId: ID!, $id: ID!) {
    records(programId: $programId, id: $id) {
      id
      kind
      date
      text
      note
      method
      act {
        id
        sentence
      }
    }
  }
`);
type Line = ResultOf<typeof RecordsQuery>['records'][number];

/** Shown without opening the rest. */
const FIRST = 12;

/** All that is written about one animal, clutch, lot or pen, latest first, by year. */
export function RecordLines(props: {
  readonly programId: string;
  /** Of the animal, clutch, lot or pen. */
  readonly id: string;
  /** Said where nothing is written yet. */
  readonly none: string;
}) {
  const { data, faults, again } = useRead(RecordsQuery, {
    programId: props.programId,
    id: props.id,
  });
  const lines = data?.records;
  return (
    <>
      <FaultNote faults={faults} again={again} />
      {!lines && faults.length === 0 && <Skeleton lines={4} what="the records" />}
      {lines?.length === 0 && <p>{props.none}</p>}
      {lines && lines.length > 0 && <Years lines={lines.slice(0, FIRST)} />}
      {lines && lines.length > FIRST && (
        <details className="why">
          <summary>{lines.length - FIRST} older records</summary>
          <Years lines={lines.slice(FIRST)} />
        </details>
      )}
    </>
  );
}

function Years({ lines }: { readonly lines: readonly Line[] }) {
  const program = useProgram();
  const { undo, undoing } = useUndo(program.id);
  const tellDone = useTellDone();
  const takeBack = program.mayWrite
    ? async (act: string) => tellDone({ sentence: (await undo(act)).words })
    : null;
  return (
    <ol className="record-lines">
      {lines.map((line, k) => {
        const year = yearOf(line);
        const isFirst = k === 0 || yearOf(lines[k - 1]) !== year;
        return (
          <li key={line.id} className={isFirst ? 'first' : undefined}>
            <span className="year" aria-hidden={!isFirst}>
              {isFirst ? year : ''}
            </span>
            <span className="said">
              {line.text}
              {line.method && <span className="soft">, {line.method}</span>}
              <span className="small soft block">
                {line.date ? partialDateWords({ text: line.date }) : 'nobody wrote when'}
              </span>
              {line.note && <span className="small block">{line.note}</span>}
            </span>
            {takeBack && line.act && (
              <button
                type="button"
                className="act quiet"
                disabled={undoing}
                onClick={() => line.act && takeBack(line.act.id)}
              >
                Take back<span className="vh"> {line.act.sentence}</span>
              </button>
            )}
          </li>
        );
      })}
    </ol>
  );
}

const yearOf = (line: Line | undefined): string => line?.date?.slice(0, 4) ?? 'no date';
