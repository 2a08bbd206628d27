import { useNavigate, useSearchParams } from 'react-router';
import { Opening } from '../components/opening.js';
import { SignInForm } from '../features/account/sign-in-form.js';
import './door.css';
import { useRenewSession } from './session.js';
import { Shell } from './shell.js';

/** The door: password here, or the printed link. */
export function Component() {
  const navigate = useNavigate();
  const [params] = useSearchParams();
  const renew = useRenewSession();
  const then = params.get('then') ?? '/';
  // Only an address of ours: '//elsewhere' would lead away.
  const next = /^\/(?![/\\])/.test(then) ? then : '/';
  return (
    <Shell>
      <div className="door">
        <Opening
          title="Sign in"
          sentence={
            <>
              Open <b>the link you were given</b>, or sign in here.
            </>
          }
        />
        <SignInForm
          onDone={() => {
            renew();
            navigate(next, { replace: true });
          }}
        />
        <aside className="aside" aria-labelledby="lost">
          <DoorFigure />
          <div>
            <h2 id="lost">No link, or a lost password?</h2>
            <p>An owner of the program makes you a new link under Program, Members.</p>
            <p>
              You are the owner? On the machine that runs it, <kbd>npm start -- --link</kbd> prints
              one.
            </p>
          </div>
        </aside>
      </div>
    </Shell>
  );
}

/** Three scutes, one in the other: growth rings. */
function DoorFigure() {
  return (
    <svg viewBox="0 0 74 74" aria-hidden="true">
      <path className="ring" d="M37 3 66.4 20V54L37 71 7.6 54V20Z" />
      <path className="ring" d="M37 13 57.8 25V49L37 61 16.2 49V25Z" />
      <path className="core" d="M37 24 48.3 30.5V43.5L37 50 25.7 43.5V30.5Z" />
    </svg>
  );
}
