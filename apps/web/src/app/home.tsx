import { Link, Navigate } from 'react-router';
import { FaultNote } from '../components/fault-note.js';
import { Skeleton } from '../components/skeleton.js';
import { ViewerQuery } from '../features/account/viewer.js';
import { addresses } from '../lib/addresses.js';
import { recall } from '../lib/local-memory.js';
import { useRead } from '../lib/use-read.js';
import { Shell } from './shell.js';

/** Leads to the program opened last on this device, or to the door. */
export function Home() {
  const { data, faults, again } = useRead(ViewerQuery, {});
  if (!data) {
    return (
      <Shell>
        <FaultNote faults={faults} again={again} />
        {faults.length === 0 ? (
          <Skeleton lines={6} what="your programs" />
        ) : (
          <p>
            <Link to="/round">The yard round works without signal</Link>
          </p>
        )}
      </Shell>
    );
  }
  if (!data.viewer) return <Navigate to={addresses.signIn()} replace />;
  const ids = data.viewer.memberships.map(({ program }) => program.id);
  const last = recall('program');
  const programId = ids.find((id) => id === last) ?? ids[0];
  return <Navigate to={programId ? addresses.today(programId) : addresses.newProgram} replace />;
}
