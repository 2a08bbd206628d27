import { type FormEvent, useState } from 'react';
import { Band } from '../../components/band.js';
import { Field } from '../../components/field.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { useAct } from '../../lib/use-act.js';
import { Chips } from './chips.js';
import { Gives, TellingFault } from './gives.js';
import { TellPen, type Told, type ToldAnimal } from './start-documents.js';
import { ToldLines } from './told-lines.js';
import { roughYear, useTell } from './use-tell.js';

const FRESH = {
  from: '',
  to: '',
  pen: 'The old yard',
  males: [] as readonly string[],
  females: [] as readonly string[],
  others: [] as readonly string[],
};

/** Who ran with whom, in whole stretches of years. */
export function ErasBand(props: {
  readonly programId: string;
  readonly told: Told;
  readonly animals: readonly ToldAnimal[];
}) {
  const { programId, told, animals } = props;
  const { draft, change, startAfresh } = useKeptDraft(`start era ${programId}`, FRESH);
  const [fault, setFault] = useState<string | null>(null);
  const addPen = useAct(TellPen);
  const { tell, running } = useTell(programId);
  const of = (sex: string) => animals.filter((animal) => animal.sex.sex === sex);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running || addPen.running) return;
    const from = roughYear(draft.from);
    const to = roughYear(draft.to);
    const who = [...draft.males, ...draft.females, ...draft.others];
    const pen = draft.pen.trim();
    if (who.length === 0) return setFault('Tap who was there.');
    if (from === null || to === null) return setFault('Write years as 2008, or leave them empty.');
    if (!pen) return setFault('Where was it? The old yard will do.');
    if (!told.yard.pens.some(({ name }) => name === pen)) {
      const made = await addPen.run((commandId) => ({
        programId,
        input: { commandId, name: pen },
      }));
      if (!made.done) return setFault(made.faults.map(({ message }) => message).join(' '));
    }
    const refused = await tell(
      [{ stayed: { animals: who, pen, from: from || null, to: to || null } }],
      true,
    );
    setFault(refused);
    if (!refused) startAfresh();
  };
  const males = draft.males.length;
  return (
    <Band title="Who ran with whom" note="Whole stretches of years. Days come later, from now on.">
      <ToldLines told={told} kinds={['entry-stayed', 'entry-move']} />
      <form className="made" onSubmit={submit} noValidate>
        <h3>A stretch of years</h3>
        <TellingFault fault={fault} />
        <Field
          id="era-from"
          label="From"
          hint="A year; empty: as long as anybody knows."
          inputMode="numeric"
          value={draft.from}
          onChange={(from) => change({ from })}
        />
        <Field
          id="era-to"
          label="To"
          hint="A year; empty: until now."
          inputMode="numeric"
          value={draft.to}
          onChange={(to) => change({ to })}
        />
        <Chips
          legend="These males"
          animals={of('MALE')}
          chosen={draft.males}
          onChange={(chosen) => change({ males: chosen })}
        />
        <Chips
          legend="ran with these females"
          animals={of('FEMALE')}
          chosen={draft.females}
          onChange={(chosen) => change({ females: chosen })}
        />
        {of('UNKNOWN').length > 0 && (
          <Chips
            legend="and these"
            animals={of('UNKNOWN')}
            chosen={draft.others}
            onChange={(chosen) => change({ others: chosen })}
          />
        )}
        <Field id="era-pen" label="Where" value={draft.pen} onChange={(pen) => change({ pen })} />
        <button className="act" type="submit" aria-disabled={running || addPen.running}>
          That is how it was
        </button>
        {males > 1 && (
          <p className="small soft">
            Every young one of these females and years then has {males} possible fathers.
          </p>
        )}
      </form>
      {told.history.edges.some(({ node }) => node.kind === 'entry-stayed' && !node.undone) && (
        <Gives>
          for every clutch of those years the possible fathers follow from who was there, each with
          his chance.
        </Gives>
      )}
    </Band>
  );
}
