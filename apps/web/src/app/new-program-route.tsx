import { Link, useNavigate } from 'react-router';
import { Band } from '../components/band.js';
import { Opening } from '../components/opening.js';
import { RestoreForm } from '../features/archive/restore-form.js';
import { NewProgramForm } from '../features/program/new-program-form.js';
import { addresses } from '../lib/addresses.js';
import { useRenewSession } from './session.js';
import { Shell } from './shell.js';

/** A new, empty program for whoever is signed in. */
export function Component() {
  const navigate = useNavigate();
  const renew = useRenewSession();
  const enter = (address: string) => {
    renew();
    navigate(address);
  };
  return (
    <Shell>
      <Opening
        title="New program"
        trail={<Link to="/">Back to your program</Link>}
        sentence="One breeding group and all its records make a program. What is yours called?"
      />
      <NewProgramForm onDone={(programId) => enter(addresses.kitchenTable(programId))} />
      <Band title="Or from a copy" note="A program that was taken along whole comes back whole.">
        <RestoreForm onDone={(programId) => enter(addresses.animals(programId))} />
      </Band>
    </Shell>
  );
}
