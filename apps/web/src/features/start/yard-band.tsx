import { type FormEvent, useState } from 'react';
import { Band } from '../../components/band.js';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import { useTellDone } from '../../lib/done-context.js';
import { useAct } from '../../lib/use-act.js';
import { Gives, TellingFault } from './gives.js';
import { TellYard, type Told } from './start-documents.js';
import { roughYear } from './use-tell.js';

type YardState = 'CLOSED' | 'OPEN' | 'UNKNOWN';
const WORDS = { CLOSED: 'closed', OPEN: 'open', UNKNOWN: 'not known' } as const;

/** Whether a male nobody recorded could have got in. Owners set it. */
export function YardBand(props: {
  readonly programId: string;
  readonly settings: Told['seasonSettings'];
  readonly isOwner: boolean;
}) {
  const { programId, settings } = props;
  const stored = settings.yard as YardState;
  const [yard, setYard] = useState<YardState>(stored);
  const [since, setSince] = useState(settings.yardSince ?? '');
  const [fault, setFault] = useState<string | null>(null);
  const tellDone = useTellDone();
  const { run, running } = useAct(TellYard);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running) return;
    const year = roughYear(since);
    if (year === null) return setFault('Write the year as 2005, or leave it empty.');
    const outcome = await run((commandId) => ({
      programId,
      input: { commandId, yard, yardSince: year || null },
    }));
    if (!outcome.done) return setFault(outcome.faults.map(({ message }) => message).join(' '));
    const { id, sentence } = outcome.data.changeSeasonSettings.command;
    tellDone({ sentence, commandId: id });
    setFault(null);
  };
  return (
    <Band title="Your yard" note="Could a male nobody recorded have got in?">
      <p>
        So far: <b>{WORDS[stored]}</b>
        {settings.yardSince && ` since ${settings.yardSince}`}.
      </p>
      {props.isOwner ? (
        <form className="made" onSubmit={submit} noValidate>
          <TellingFault fault={fault} />
          <Choice
            label="The yard is"
            options={[
              { value: 'CLOSED', words: 'Closed' },
              { value: 'OPEN', words: 'Open' },
              { value: 'UNKNOWN', words: 'Not known' },
            ]}
            value={yard}
            onChange={setYard}
          />
          <Field
            id="yard-since"
            label="Since"
            hint="A year; empty: as long as anybody knows."
            inputMode="numeric"
            value={since}
            onChange={setSince}
          />
          <p className="small soft">
            Closed: a wall or fence, and no visits. Then 'a male nobody recorded' can only be one of
            yours. Open or not known: it may be a stranger, or kin of yours.
          </p>
          <button className="act" type="submit" aria-disabled={running}>
            So it is
          </button>
        </form>
      ) : (
        <p className="soft">An owner of the program sets this.</p>
      )}
      {stored === 'CLOSED' && (
        <Gives>a father of those years is one of your males, recorded or not.</Gives>
      )}
    </Band>
  );
}
