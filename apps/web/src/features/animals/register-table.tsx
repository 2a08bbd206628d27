import type { KeyboardEvent, ReactNode } from 'react';
import { Link } from 'react-router';
import { Code } from '../../components/code.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Scute } from '../../components/scute.js';
import { SEX_WORDS, SexShape } from '../../components/sex-shape.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { chanceWords, inbreedingWords } from '../../lib/chance-words.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useFirstFew } from '../../lib/use-first-few.js';
import { useRead } from '../../lib/use-read.js';
import { type ParentFinding, RegisterPageQuery, type RegisterRow } from './animal-documents.js';
import { type Order, PAGE, pageVariables, type RegisterView } from './register-address.js';

/** Rows that fill the window of a phone or a laptop, and a few more. */
const IN_SIGHT = 14;

interface TableProps {
  readonly programId: string;
  readonly view: RegisterView;
  readonly change: (next: Partial<RegisterView>) => void;
}

/** The rows that fit the view, and a way to the next. Arrow keys walk from animal to animal. */
export function RegisterTable(props: TableProps & { readonly all: number | undefined }) {
  const { view, change } = props;
  const first = useRead(RegisterPageQuery, pageVariables(props.programId, view, null));
  const found = first.data?.animals.totalCount;
  const head = (order: Order, words: string) => (
    <th scope="col" aria-sort={view.order === order ? 'ascending' : undefined}>
      <button type="button" className="sort" onClick={() => change({ order })}>
        {words}
      </button>
    </th>
  );
  if (first.faults.length > 0 && !first.data) {
    return <FaultNote faults={first.faults} again={first.again} />;
  }
  if (!first.data) return <Skeleton lines={12} what="the register" />;
  return (
    <>
      <p className="found-count" role="status">
        {found === props.all ? `All ${found}.` : `${found} of ${props.all ?? 'all'} fit.`} F, the
        inbreeding, stands beside the generations it rests on.
      </p>
      {found === 0 ? (
        <EmptyState title="No animal fits">
          <p>Fewer letters find more.</p>
          <p>
            <button
              type="button"
              className="act line"
              onClick={() => change({ search: '', sex: 'ALL', species: '' })}
            >
              Show all
            </button>
          </p>
        </EmptyState>
      ) : (
        <table onKeyDown={walkRows}>
          <caption className="vh">Register of animals</caption>
          <thead>
            <tr>
              {head('CODE', 'Animal')}
              {head('SEX', 'Sex')}
              {head('HATCHED', 'Hatched')}
              <th scope="col">Species</th>
              <th scope="col">Mother</th>
              <th scope="col">Father</th>
              <th scope="col">F, and depth known</th>
            </tr>
          </thead>
          <Pages {...props} after={null} left={view.pages} />
        </table>
      )}
    </>
  );
}

/** One page of rows, and below it those still to show: each asks for its own. */
function Pages(props: TableProps & { readonly after: string | null; readonly left: number }) {
  const { programId, view, change } = props;
  const { data, faults, again } = useRead(
    RegisterPageQuery,
    pageVariables(programId, view, props.after),
  );
  const shownRows = useFirstFew(IN_SIGHT);
  if (!data) {
    return (
      <WideRow>
        <FaultNote faults={faults} again={again} />
        {faults.length === 0 && <Skeleton lines={8} what="the next animals" />}
      </WideRow>
    );
  }
  const { edges, pageInfo, totalCount } = data.animals;
  const shown = view.pages * PAGE;
  return (
    <>
      <tbody>
        {edges.slice(0, shownRows).map(({ node }) => (
          <Row key={node.id} programId={programId} animal={node} change={change} />
        ))}
      </tbody>
      {pageInfo.hasNextPage && pageInfo.endCursor && props.left > 1 && (
        <Pages {...props} after={pageInfo.endCursor} left={props.left - 1} />
      )}
      {pageInfo.hasNextPage && props.left === 1 && (
        <WideRow>
          <button
            type="button"
            className="act line"
            onClick={() => change({ pages: view.pages + 1 })}
          >
            Show the next {Math.min(PAGE, totalCount - shown)}
          </button>
          <span className="on-paper">
            The first {shown} of {totalCount}; the page shows the next ones.
          </span>
        </WideRow>
      )}
    </>
  );
}

function WideRow({ children }: { readonly children: ReactNode }) {
  return (
    <tbody>
      <tr className="wide">
        <td colSpan={7}>{children}</td>
      </tr>
    </tbody>
  );
}

function Row(props: {
  readonly programId: string;
  readonly animal: RegisterRow;
  readonly change: TableProps['change'];
}) {
  const { programId, animal } = props;
  const { value, equivalentGenerations } = animal.inbreeding;
  return (
    <tr>
      <th scope="row" className="animal">
        <Link data-row to={addresses.animal(programId, animal.id)}>
          <Code code={animal.code} name={animal.name} />
        </Link>
      </th>
      <td className="sex">
        <span className="has-shape">
          <SexShape sex={animal.sex.sex} />
          {SEX_WORDS[animal.sex.sex]}
        </span>
      </td>
      <td className="hatched">
        {animal.hatched ? (
          partialDateWords(animal.hatched)
        ) : (
          <span className="soft">year not known</span>
        )}
      </td>
      <td className="species">
        <button
          type="button"
          className="plain"
          title="Show only this species"
          onClick={() => props.change({ species: animal.species })}
        >
          {animal.species}
        </button>
      </td>
      <td className="mother">
        <ParentCell programId={programId} parent="mother" finding={animal.dam} />
      </td>
      <td className="father">
        <ParentCell programId={programId} parent="father" finding={animal.sire} />
      </td>
      <td className="depth">
        {equivalentGenerations === 0 ? (
          <span className="soft">not known</span>
        ) : (
          <>
            {inbreedingWords(value)}{' '}
            <span className="soft small">from {Number(equivalentGenerations.toFixed(1))} gen.</span>
          </>
        )}
      </td>
    </tr>
  );
}

/** The most likely parent, how sure, and how many others it may be. */
function ParentCell(props: {
  readonly programId: string;
  readonly parent: 'mother' | 'father';
  readonly finding: ParentFinding;
}) {
  const { candidates, unrecorded } = props.finding;
  const [best] = candidates;
  if (!best) {
    return (
      <span className="soft">
        {/* Without column heads, as on a phone, it must say itself what is not recorded. */}
        <span className="only-narrow">{props.parent} </span>not recorded
      </span>
    );
  }
  const others = candidates.length - 1 + (unrecorded > 0 ? 1 : 0);
  return (
    <span className="has-glyph">
      <Scute
        share={best.probability}
        core={best.probability >= 1 ? 'full' : undefined}
        tone="settled"
      />
      <span>
        <Link to={addresses.animal(props.programId, best.animal.id)}>
          <Code code={best.animal.code} />
        </Link>
        {best.probability < 1 && (
          <span className="small soft">
            {' '}
            {chanceWords(best.probability)}
            {others > 0 && (
              <span className="only-wide">
                , or {others} {others === 1 ? 'other' : 'others'}
              </span>
            )}
          </span>
        )}
      </span>
    </span>
  );
}

/** Arrow up and down, Home and End move from one animal to another. */
function walkRows(event: KeyboardEvent<HTMLTableElement>) {
  const rows = [...event.currentTarget.querySelectorAll<HTMLElement>('[data-row]')];
  const at = rows.indexOf(document.activeElement as HTMLElement);
  if (at < 0) return;
  const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rows.length - 1 }[event.key];
  if (to === undefined || to >= rows.length) return;
  event.preventDefault();
  // Up from the first row leads back to the field above.
  (rows[to] ?? document.getElementById('narrow'))?.focus();
}
