import { useState } from 'react';
import { FaultNote } from '../../components/fault-note.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { dayWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import type { Role } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { ChangeRole, type Member, RemoveMember } from './program-documents.js';
import { ROLE_WORDS, ROLES } from './roles.js';
import './members.css';

/** Members and what each may do. Taking somebody out asks first: only a new link brings them back. */
export function MemberList(props: {
  readonly programId: string;
  readonly members: readonly Member[];
  readonly viewerId: string;
}) {
  const { programId, members, viewerId } = props;
  const [faults, setFaults] = useState<ApiFault[]>([]);
  const [leaving, setLeaving] = useState<string | null>(null);
  const tellDone = useTellDone();
  const changeRole = useAct(ChangeRole);
  const removeMember = useAct(RemoveMember);
  const setRole = async ({ account }: Member, role: Role) => {
    const outcome = await changeRole.run((commandId) => ({
      programId,
      input: { commandId, accountId: account.id, role },
    }));
    setFaults(outcome.done ? [] : outcome.faults);
    if (outcome.done) tellDone({ sentence: `${account.name} is now ${role.toLowerCase()}.` });
  };
  const takeOut = async ({ account }: Member) => {
    const outcome = await removeMember.run((commandId) => ({
      programId,
      input: { commandId, accountId: account.id },
    }));
    setFaults(outcome.done ? [] : outcome.faults);
    setLeaving(null);
    if (outcome.done) tellDone({ sentence: `${account.name} is no longer a member.` });
  };
  return (
    <>
      <FaultNote faults={faults} />
      <ul className="rows members">
        {members.map((member) => {
          const { account, role, since } = member;
          const self = account.id === viewerId;
          return (
            <li key={account.id}>
              <span>
                <b>{self ? `${account.name}, you` : account.name}</b>
                <span className="soft small">
                  {account.email}, since {dayWords(since)}
                </span>
              </span>
              {leaving === account.id ? (
                <span className="sure-ask">
                  They see nothing more from now on.
                  <button type="button" className="act line" onClick={() => takeOut(member)}>
                    Take out<span className="vh"> {account.name} now</span>
                  </button>
                  <button type="button" className="act quiet" onClick={() => setLeaving(null)}>
                    Keep
                  </button>
                </span>
              ) : (
                <span className="role">
                  <select
                    aria-label={`Role of ${account.name}`}
                    value={role}
                    onChange={(event) => setRole(member, event.target.value as Role)}
                  >
                    {ROLES.map((one) => (
                      <option key={one} value={one}>
                        {ROLE_WORDS[one].name}
                      </option>
                    ))}
                  </select>
                  {!self && (
                    <button
                      type="button"
                      className="act quiet"
                      onClick={() => setLeaving(account.id)}
                    >
                      Take out<span className="vh"> {account.name}</span>
                    </button>
                  )}
                </span>
              )}
            </li>
          );
        })}
      </ul>
    </>
  );
}
