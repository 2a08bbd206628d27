import { useEffect, useRef } from 'react';
import { Link, useLocation } from 'react-router';
import { addresses } from '../lib/addresses.js';
import type { ApiFault } from '../lib/api-fault.js';
import './error-summary.css';

/** One thing to mend in a form. The same words stand at the field. */
export interface FormFault {
  /** Id of the field's control; absent: the fault is of the whole form. */
  readonly field?: string;
  readonly message: string;
  readonly code?: string;
}

/**
 * The server's refusals as faults of the form. `fieldOf` finds the field of a place, such as
 * `input.sires.0.animalId`; a place that no field owns stands in the summary alone.
 */
export function formFaults(
  faults: readonly ApiFault[],
  fieldOf: (place: string) => string | undefined,
): FormFault[] {
  return faults.map(({ message, remedy, place, code }) => ({
    field: place === undefined ? undefined : fieldOf(place),
    message: remedy ? `${message} ${remedy}` : message,
    code,
  }));
}

/** What stands at a field, or undefined. */
export const faultAt = (faults: readonly FormFault[], field: string): string | undefined =>
  faults
    .filter((fault) => fault.field === field)
    .map((fault) => fault.message)
    .join(' ') || undefined;

/** All faults of a form, linked to their fields. Takes the focus when the faults are new. */
export function ErrorSummary({ faults }: { readonly faults: readonly FormFault[] }) {
  const box = useRef<HTMLDivElement>(null);
  const { pathname, search } = useLocation();
  useEffect(() => {
    if (faults.length > 0) box.current?.focus();
  }, [faults]);
  if (faults.length === 0) return null;
  return (
    <div className="errors" role="alert" tabIndex={-1} ref={box}>
      <h2>{faults.length === 1 ? 'One thing to mend' : `${faults.length} things to mend`}</h2>
      <ul>
        {faults.map(({ field, message, code }) => (
          <li key={(field ?? '') + message}>
            {field ? (
              <a
                href={`#${field}`}
                onClick={(event) => {
                  event.preventDefault();
                  document.getElementById(field)?.focus();
                }}
              >
                {message}
              </a>
            ) : (
              message
            )}
            {code === 'NOT_SIGNED_IN' && (
              <>
                {' '}
                <Link to={addresses.signIn(pathname + search)}>Sign in, and come back here</Link>
              </>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
