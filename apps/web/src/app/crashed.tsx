import { isRouteErrorResponse, useRouteError } from 'react-router';
import { Opening } from '../components/opening.js';
import { NotFound } from './not-found.js';
import { Shell } from './shell.js';

/** A page broke: ours to mend. Says so, and what still works. */
export function Crashed() {
  const error = useRouteError();
  if (isRouteErrorResponse(error) && error.status === 404) return <NotFound what="page" />;
  return (
    <Shell>
      <Opening
        title="This page broke"
        sentence="This page broke while it was drawn. What is recorded is safe."
        acts={
          <button className="act" type="button" onClick={() => window.location.reload()}>
            Open it again
          </button>
        }
      />
      <p className="small soft">
        If it breaks again, tell whoever looks after the program these words:{' '}
        {error instanceof Error ? error.message : String(error)}
      </p>
    </Shell>
  );
}
