import { useMemo } from 'react';
import { Link, Navigate, Outlet, useLocation, useNavigate, useParams } from 'react-router';
import { FaultNote } from '../components/fault-note.js';
import { Skeleton } from '../components/skeleton.js';
import { SignOut, ViewerQuery } from '../features/account/viewer.js';
import { addresses } from '../lib/addresses.js';
import { remember } from '../lib/local-memory.js';
import { forgetPhone } from '../lib/phone-store.js';
import { ProgramContext } from '../lib/program-context.js';
import { useAct } from '../lib/use-act.js';
import { useRead } from '../lib/use-read.js';
import { DoneNotice } from './done-notice.js';
import { Live } from './live.js';
import { NotFound } from './not-found.js';
import { Places, ThumbBar } from './places.js';
import { SearchBox } from './search-box.js';
import { useRenewSession } from './session.js';
import { Shell } from './shell.js';

/** The frame of a program's pages. Leads to the door when nobody is signed in. */
export function ProgramFrame() {
  const { programId = '' } = useParams();
  const { pathname, search } = useLocation();
  const navigate = useNavigate();
  const renew = useRenewSession();
  const signOut = useAct(SignOut);
  const { data, faults, again } = useRead(ViewerQuery, {});
  const memberships = data?.viewer?.memberships ?? [];
  const membership = memberships.find(({ program }) => program.id === programId);
  const open = useMemo(
    () =>
      membership && {
        id: membership.program.id,
        name: membership.program.name,
        isDemo: membership.program.isDemo,
        role: membership.role,
        mayWrite: membership.role !== 'READER',
      },
    [membership],
  );
  if (!data) {
    return (
      <Shell>
        <FaultNote faults={faults} again={again} />
        {faults.length === 0 ? (
          <Skeleton lines={6} what="your programs" />
        ) : (
          <p>
            <Link to={addresses.round(programId)}>The yard round works without signal</Link>
          </p>
        )}
      </Shell>
    );
  }
  if (!data.viewer) return <Navigate to={addresses.signIn(pathname + search)} replace />;
  if (!open) return <NotFound what="program" />;
  remember('program', open.id);
  const leave = async () => {
    await signOut.run(() => ({}));
    await forgetPhone();
    renew();
    navigate(addresses.signIn());
  };
  return (
    <ProgramContext value={open}>
      <Live key={open.id} programId={open.id} revision={membership?.program.revision ?? 0}>
        <DoneNotice programId={open.id}>
          <Shell
            header={
              <>
                <div className="group">
                  {memberships.length === 1 ? (
                    open.name
                  ) : (
                    <select
                      aria-label="Program"
                      value={open.id}
                      onChange={(event) => navigate(addresses.today(event.target.value))}
                    >
                      {memberships.map(({ program }) => (
                        <option key={program.id} value={program.id}>
                          {program.name}
                        </option>
                      ))}
                    </select>
                  )}
                </div>
                <SearchBox programId={open.id} />
                <Places programId={open.id} />
              </>
            }
            foot={
              <>
                {open.isDemo && <p>Invented program: no real animal, place or keeper.</p>}
                <p>
                  Signed in as {data.viewer.account.name}.{' '}
                  <button type="button" className="plain" onClick={leave}>
                    Sign out
                  </button>
                </p>
              </>
            }
            thumb={<ThumbBar programId={open.id} />}
          >
            <Outlet />
          </Shell>
        </DoneNotice>
      </Live>
    </ProgramContext>
  );
}
