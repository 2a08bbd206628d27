import { Link, useNavigate } from 'react-router';
import { FaultNote } from '../components/fault-note.js';
import { Opening } from '../components/opening.js';
import { Skeleton } from '../components/skeleton.js';
import { SetPasswordForm } from '../features/account/set-password-form.js';
import { useEnterByLink } from '../features/account/use-enter-by-link.js';
import { addresses } from '../lib/addresses.js';
import { useRenewSession } from './session.js';
import { Shell } from './shell.js';

/** Where a one-time link leads: in, and then to a password of one's own. */
export function Component() {
  const entering = useEnterByLink();
  const navigate = useNavigate();
  const renew = useRenewSession();
  const goIn = () => {
    renew();
    navigate('/', { replace: true });
  };
  if (entering.state === 'waiting') {
    return (
      <Shell>
        <Opening title="Coming in" sentence="The link is being looked at." />
        <Skeleton lines={3} what="the answer" />
      </Shell>
    );
  }
  if (entering.state === 'refused') {
    return (
      <Shell>
        <Opening title="The link does not open" sentence="This link does not open the door." />
        <FaultNote faults={entering.faults} />
        <p>
          <Link to={addresses.signIn()}>Sign in with a password instead</Link>
        </p>
      </Shell>
    );
  }
  const { account } = entering;
  if (account.hasPassword) {
    return (
      <Shell>
        <Opening
          title="You are in"
          sentence={`You are in, ${account.name}. The link is used up.`}
          acts={
            <button className="act" type="button" onClick={goIn}>
              Go to your program
            </button>
          }
        />
      </Shell>
    );
  }
  return (
    <Shell>
      <Opening
        title="You are in"
        sentence={
          <>
            You are in, and <b>the link is used up</b>. Choose how you come in next time.
          </>
        }
      />
      <SetPasswordForm email={account.email} name={account.name} onDone={goIn} onLater={goIn} />
    </Shell>
  );
}
