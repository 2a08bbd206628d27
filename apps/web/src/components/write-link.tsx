import type { ReactNode } from 'react';
import { Link, useLocation } from 'react-router';
import { addresses } from '../lib/addresses.js';

/** Leads to a form that writes something down about what this page shows, and back again. */
export function WriteLink(props: {
  readonly programId: string;
  /** The form, such as `laid` or `move`. */
  readonly form: string;
  /** What is already known, by the names of the form's fields. */
  readonly given?: Readonly<Record<string, string>>;
  readonly className?: string;
  readonly children: ReactNode;
}) {
  const { pathname, search } = useLocation();
  return (
    <Link
      className={props.className}
      to={addresses.writeEntry(props.programId, props.form, {
        ...props.given,
        from: pathname + search,
      })}
    >
      {props.children}
    </Link>
  );
}
