import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { ENTRY_GROUPS } from './entry-forms.js';
import { WaitingQuery } from './record-documents.js';
import './write.css';

/** Everything that can be written down, one small form each. */
export function WritePage() {
  const program = useProgram();
  const { data } = useRead(WaitingQuery, { programId: program.id }, !program.mayWrite);
  const waiting = data?.waitingEntries.length ?? 0;
  return (
    <>
      <Opening
        title="Write down"
        sentence="What happened? Each thing is one small form; what you do not know stays open."
        acts={
          program.mayWrite && (
            <>
              <Link className="act line" to={addresses.pasteRows(program.id)}>
                Paste many rows
              </Link>
              <Link className="act line" to={addresses.waiting(program.id)}>
                {waiting === 0 ? 'Waiting for a decision' : `${waiting} waiting for a decision`}
              </Link>
            </>
          )
        }
      />
      {!program.mayWrite && (
        <EmptyState title="You read this program">
          <p>Its owner can make you a keeper; then you can write things down here.</p>
        </EmptyState>
      )}
      {program.mayWrite &&
        ENTRY_GROUPS.map(({ name, forms }) => (
          <Band key={name} title={name}>
            <ul className="write-list">
              {forms.map(({ id, title, about }) => (
                <li key={id}>
                  <Link to={addresses.writeEntry(program.id, id)}>{title}</Link>
                  <span className="small soft block">{about}</span>
                </li>
              ))}
            </ul>
          </Band>
        ))}
    </>
  );
}
