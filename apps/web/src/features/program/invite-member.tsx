import { useRef, useState } from 'react';
import { Choice } from '../../components/choice.js';
import { FaultNote } from '../../components/fault-note.js';
import { Field } from '../../components/field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { dayWords, timeWords } from '../../lib/date-words.js';
import type { ResultOf } from '../../lib/graphql.js';
import type { Role } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { InviteMemberMutation } from './program-documents.js';

/** Makes a link that lets one person in, once. Whoever holds it comes in: it is for one hand. */
export function InviteMember({ programId }: { readonly programId: string }) {
  const [role, setRole] = useState<Role>('KEEPER');
  const [invitation, setInvitation] =
    useState<ResultOf<typeof InviteMemberMutation>['inviteMember']>();
  const [faults, setFaults] = useState<ApiFault[]>([]);
  const { run, running } = useAct(InviteMemberMutation);
  const invite = async () => {
    if (running) return;
    const outcome = await run((commandId) => ({ programId, input: { commandId, role } }));
    setFaults(outcome.done ? [] : outcome.faults);
    if (outcome.done) setInvitation(outcome.data.inviteMember);
  };
  return (
    <section className="invite" aria-labelledby="invite">
      <h3 id="invite">Let somebody in</h3>
      <FaultNote faults={faults} />
      <Choice
        label="They may"
        value={role}
        onChange={setRole}
        options={[
          { value: 'READER', words: 'Read' },
          { value: 'KEEPER', words: 'Record and plan' },
          { value: 'OWNER', words: 'Own it too' },
        ]}
      />
      <div>
        <button type="button" className="act line" aria-disabled={running} onClick={invite}>
          Make a link
        </button>
      </div>
      {invitation && <InvitationLink {...invitation} />}
    </section>
  );
}

function InvitationLink(props: { readonly link: string; readonly expiresAt: string }) {
  const box = useRef<HTMLDivElement>(null);
  const [copied, setCopied] = useState(false);
  const copy = async () => {
    // Over plain HTTP, or when refused, the clipboard is closed: then the text stands marked, ready
    // to be copied by hand, and the button does not claim more.
    const input = box.current?.querySelector('input');
    input?.focus();
    input?.select();
    const write = navigator.clipboard?.writeText(props.link);
    setCopied(
      await Promise.resolve(write).then(
        () => write !== undefined,
        () => false,
      ),
    );
  };
  return (
    <div ref={box} role="status">
      <Field
        id="invitation"
        label="The link, for one person, once"
        hint={`Good until ${dayWords(props.expiresAt)}, ${timeWords(props.expiresAt)}. Whoever holds it comes in, so hand it to that person only.`}
        readOnly
        value={props.link}
        beside={
          <button type="button" className="act line" onClick={copy}>
            {copied ? 'Copied' : 'Copy'}
          </button>
        }
      />
    </div>
  );
}
