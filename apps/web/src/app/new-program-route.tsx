import { Link, useNavigate } from 'react-router';
import { Opening } from '../components/opening.js';
import { NewProgramForm } from '../features/program/new-program-form.js';
import { addresses } from '../lib/addresses.js';
import { useRenewSession } from './session.js';
import { Shell } from './shell.js';

/** A new, empty program for whoever is signed in. */
export function Component() {
  const navigate = useNavigate();
  const renew = useRenewSession();
  return (
    <Shell>
      <Opening
        title="New program"
        trail={<Link to="/">Back to your program</Link>}
        sentence="One breeding group and all its records make a program. What is yours called?"
      />
      <NewProgramForm
        onDone={(programId) => {
          renew();
          navigate(addresses.animals(programId));
        }}
      />
    </Shell>
  );
}
