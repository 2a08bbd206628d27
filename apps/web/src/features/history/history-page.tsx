import { useState } from 'react';
import { Band } from '../../components/band.js';
import { CommandList } from '../../components/command-list.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { dayWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { useUndo } from '../../lib/use-undo.js';
import { ChangesDrawer } from './changes-drawer.js';

const HistoryQuery = graphql(`
  query History($programId: ID!, $first: Int!, $after: String) {
    history(programId: $programId, first: $first, after: $after) {
      totalCount
      pageInfo {
        hasNextPage
        endCursor
      }
      edges {
        node {
          id
          kind
          sentence
          at
          by
          undone
          undoes
          changes {
            table
            rowId
            before
            after
          }
        }
      }
    }
  }
`);

type Command = ResultOf<typeof HistoryQuery>['history']['edges'][number]['node'];

const PAGE = 25;

/** Every act of the program by day, newest first; each can be taken back while nothing stands on it. */
export function HistoryPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(HistoryQuery, {
    programId: program.id,
    first: PAGE,
    after: null,
  });
  const total = data?.history.totalCount ?? 0;
  return (
    <>
      <Opening
        title="History"
        sentence={
          data &&
          (total === 0 ? (
            'Nothing was changed here yet.'
          ) : (
            <>
              <b>
                {total} {total === 1 ? 'act' : 'acts'}
              </b>{' '}
              so far. Each can be taken back while nothing later stands on it.
            </>
          ))
        }
      />
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={8} what="the history" />}
      {data && total === 0 && (
        <EmptyState title="What will stand here">
          <p>Whatever you or another member writes: who, when, what it was before. And Undo.</p>
        </EmptyState>
      )}
      {total > 0 && <Acts programId={program.id} mayUndo={program.mayWrite} after={null} />}
    </>
  );
}

/** A page of acts, and the older ones below it once they are asked for. */
function Acts(props: {
  readonly programId: string;
  readonly mayUndo: boolean;
  readonly after: string | null;
}) {
  const { programId, mayUndo, after } = props;
  const [older, setOlder] = useState(false);
  const { data, faults, again } = useRead(HistoryQuery, { programId, first: PAGE, after });
  if (!data) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={8} what="older acts" />
    );
  }
  const { edges, pageInfo } = data.history;
  return (
    <>
      {byDay(edges.map(({ node }) => node)).map(([day, ofDay]) => (
        <Band key={day} title={day}>
          <CommandList
            commands={ofDay}
            timeOnly
            more={(command) => (
              <CommandMore programId={programId} command={command} mayUndo={mayUndo} />
            )}
          />
        </Band>
      ))}
      {pageInfo.hasNextPage && older && <Acts {...props} after={pageInfo.endCursor} />}
      {pageInfo.hasNextPage && !older && (
        <p className="acts">
          <button type="button" className="act line" onClick={() => setOlder(true)}>
            Show older acts
          </button>
        </p>
      )}
    </>
  );
}

function CommandMore(props: {
  readonly programId: string;
  readonly command: Command;
  readonly mayUndo: boolean;
}) {
  const { command } = props;
  const { undo, undoing } = useUndo(props.programId);
  const tellDone = useTellDone();
  const [fault, setFault] = useState('');
  const takeBack = async () => {
    const { done, words } = await undo(command.id);
    setFault(done ? '' : words);
    if (done) tellDone({ sentence: words });
  };
  return (
    <>
      {props.mayUndo && !command.undone ? (
        <button type="button" className="act line" disabled={undoing} onClick={takeBack}>
          Undo<span className="vh">: {command.sentence}</span>
        </button>
      ) : (
        <span />
      )}
      {fault && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
      {command.changes.length > 0 && (
        <ChangesDrawer of={command.sentence} changes={command.changes} />
      )}
    </>
  );
}

/** Commands under the day they were done, in the reader's time zone; order kept. */
function byDay(commands: readonly Command[]): [string, Command[]][] {
  const days = new Map<string, Command[]>();
  for (const command of commands) {
    const day = dayWords(command.at);
    days.set(day, [...(days.get(day) ?? []), command]);
  }
  return [...days];
}
