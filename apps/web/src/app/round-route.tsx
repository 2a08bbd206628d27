import { useEffect } from 'react';
import { Navigate, useParams } from 'react-router';
import { RoundPage } from '../features/round/round-page.js';
import { addresses } from '../lib/addresses.js';
import { recall, remember } from '../lib/local-memory.js';
import { Shell } from './shell.js';

/** The yard round stands outside a program's frame: it must open where no server answers. */
export function Component() {
  const { programId } = useParams();
  useEffect(() => {
    // Only over HTTPS or on this machine do browsers let a page open without signal.
    navigator.serviceWorker?.register('/offline.js').catch(() => {});
  }, []);
  const last = recall('program');
  if (!programId) return <Navigate to={last ? addresses.round(last) : '/'} replace />;
  remember('program', programId);
  return (
    <Shell>
      {!window.isSecureContext && (
        <p className="small soft">
          This address is not HTTPS: the page works now, but will not open again without signal.
        </p>
      )}
      <RoundPage programId={programId} />
    </Shell>
  );
}
