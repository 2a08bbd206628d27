import { Link } from 'react-router';
import { EmptyState } from '../components/empty-state.js';
import { Opening } from '../components/opening.js';
import { Shell } from './shell.js';

/** No such page, or no such program for this reader. */
export function NotFound({ what }: { readonly what: 'page' | 'program' }) {
  return (
    <Shell>
      <Opening title="Not found" sentence={`There is no ${what} at this address.`} />
      <EmptyState title="What it may be">
        {what === 'program' ? (
          <p>
            The program was never yours to see, or an owner took your name off it. An owner can send
            you a new link.
          </p>
        ) : (
          <p>A letter was lost on the way, or the page has moved.</p>
        )}
        <p>
          <Link to="/">Go to your own program</Link>
        </p>
      </EmptyState>
    </Shell>
  );
}
