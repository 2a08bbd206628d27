import { Link, useLocation } from 'react-router';
import { addresses } from '../lib/addresses.js';
import type { ApiFault } from '../lib/api-fault.js';
import './error-summary.css';

/** What went wrong when a page asked the server, what to do, and an act to try again. */
export function FaultNote(props: {
  readonly faults: readonly ApiFault[];
  readonly again?: () => void;
}) {
  const { pathname, search } = useLocation();
  if (props.faults.length === 0) return null;
  const signedOut = props.faults.some((fault) => fault.code === 'NOT_SIGNED_IN');
  return (
    <div className="errors" role="alert">
      {props.faults.map((fault) => (
        <p key={fault.code + fault.message}>
          <b>{fault.message}</b> {fault.remedy}
        </p>
      ))}
      {signedOut ? (
        <p>
          <Link to={addresses.signIn(pathname + search)}>Sign in, and come back here</Link>
        </p>
      ) : (
        props.again && (
          <button className="act line" type="button" onClick={props.again}>
            Try again
          </button>
        )
      )}
    </div>
  );
}
