import { Link } from 'react-router';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { Backups } from './backups.js';
import './archive.css';

/** The program leaves whole, and comes back whole: nothing is locked in. */
export function KeepCopy() {
  const program = useProgram();
  if (program.role !== 'OWNER') {
    return <p>An owner can take a copy of the whole program.</p>;
  }
  return (
    <>
      <ul className="rows">
        <li>
          <a href={`/files/${program.id}/archive.zip`} download>
            Take the whole program (zip)
          </a>
        </li>
        <li>
          <Link to={addresses.newProgram}>Bring a copy back as a new program</Link>
        </li>
      </ul>
      <p className="small">
        Every record with its history, as tables that any spreadsheet opens. It holds the names of
        people you dealt with: keep it where only you can read it.
      </p>
      <h3>Backups</h3>
      <Backups programId={program.id} />
    </>
  );
}
