import { type FormEvent, useState } from 'react';
import { Band } from '../../components/band.js';
import { Choice } from '../../components/choice.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { chanceWords } from '../../lib/chance-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import {
  type Definitions,
  type GenePair,
  RemoveGenePair,
  SetGenePair,
} from './definition-documents.js';
import { geneOf } from './gene-words.js';

/** Two genes on one chromosome, or two look-alike lines that may be one gene. */
export function GenePairs({ definitions }: { readonly definitions: Definitions }) {
  const program = useProgram();
  const { pairs } = definitions;
  return (
    <Band
      title="Two genes together"
      note="Genes are taken as passed on apart, and look-alike lines as two genes, unless you say otherwise here."
    >
      {pairs.length > 0 && (
        <ul className="rows">
          {pairs.map((pair) => (
            <PairLine key={pair.id} pair={pair} definitions={definitions} />
          ))}
        </ul>
      )}
      {pairs.length === 0 && !program.mayWrite && <p>Nothing is said of any two.</p>}
      {program.mayWrite && <PairForm definitions={definitions} />}
    </Band>
  );
}

function PairLine(props: { readonly pair: GenePair; readonly definitions: Definitions }) {
  const { pair, definitions } = props;
  const program = useProgram();
  const tellDone = useTellDone();
  const { run, running } = useAct(RemoveGenePair);
  const names = [pair.firstId, pair.secondId].map((id) => geneOf(definitions, id)?.name);
  const takeOut = async () => {
    const outcome = await run((commandId) => ({
      programId: program.id,
      input: { commandId, pairId: pair.id },
    }));
    tellDone(
      outcome.done
        ? {
            sentence: outcome.data.removeLocusPair.command.sentence,
            commandId: outcome.data.removeLocusPair.command.id,
          }
        : { sentence: outcome.faults.map(({ message }) => message).join(' ') },
    );
  };
  return (
    <li>
      <span>
        <b>{names.join(' and ')}</b>{' '}
        {pair.kind === 'LINKED'
          ? `lie on one chromosome: ${pair.chance} of eggs and sperm carry them newly mixed.`
          : `may be one gene: ${pair.chance} before the records${
              pair.now === null ? '.' : `, ${chanceWords(pair.now)} with all of them.`
            }`}
        {pair.reason && <span className="small soft block">{pair.reason}</span>}
      </span>
      {program.mayWrite && (
        <button type="button" className="act quiet" disabled={running} onClick={takeOut}>
          Take out<span className="vh"> what is said of {names.join(' and ')}</span>
        </button>
      )}
    </li>
  );
}

const FIELD_OF_PLACE: Record<string, string> = {
  'input.secondId': 'pair-second',
  'input.firstId': 'pair-first',
  'input.chance': 'pair-chance',
  'input.reason': 'pair-reason',
};

function PairForm({ definitions }: { readonly definitions: Definitions }) {
  const program = useProgram();
  const tellDone = useTellDone();
  const { run, running } = useAct(SetGenePair);
  const { loci } = definitions;
  const [open, setOpen] = useState(false);
  const [kind, setKind] = useState<GenePair['kind']>('ONE_GENE');
  const [first, setFirst] = useState(loci[0]?.id ?? '');
  const [second, setSecond] = useState(loci[1]?.id ?? '');
  const [chance, setChance] = useState('');
  const [reason, setReason] = useState('');
  const [faults, setFaults] = useState<FormFault[]>([]);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const outcome = await run((commandId) => ({
      programId: program.id,
      input: { commandId, firstId: first, secondId: second, kind, chance, reason: reason || null },
    }));
    if (!outcome.done) {
      setFaults(formFaults(outcome.faults, (place) => FIELD_OF_PLACE[place]));
      return;
    }
    setFaults([]);
    setOpen(false);
    setChance('');
    setReason('');
    const { sentence, id } = outcome.data.setLocusPair.command;
    tellDone({ sentence, commandId: id });
  };
  if (!open) {
    return (
      <p className="acts">
        <button type="button" className="act line" onClick={() => setOpen(true)}>
          Say how two genes lie to each other
        </button>
      </p>
    );
  }
  const gene = (id: string, label: string, value: string, set: (value: string) => void) => (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => set(event.target.value)}>
        {loci.map((each) => (
          <option key={each.id} value={each.id}>
            {each.name} ({each.code})
          </option>
        ))}
      </select>
      {faultAt(faults, id) && <span className="fault">{faultAt(faults, id)}</span>}
    </div>
  );
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      {gene('pair-first', 'One gene', first, setFirst)}
      {gene('pair-second', 'The other', second, setSecond)}
      <Choice
        label="What you say of them"
        value={kind}
        onChange={setKind}
        options={[
          { value: 'ONE_GENE', words: 'May be one gene' },
          { value: 'LINKED', words: 'On one chromosome' },
        ]}
      />
      <Field
        id="pair-chance"
        label={kind === 'LINKED' ? 'How often they come apart' : 'How likely, before the records'}
        hint={
          kind === 'LINKED'
            ? 'The recombination fraction: 0 is never, 1/2 as if they lay on two chromosomes. Take it from counted young, never from a guess.'
            : 'Such as 1/2 where nobody knows. Young of the one line and the other that look plain then speak against it.'
        }
        autoComplete="off"
        value={chance}
        onChange={setChance}
        fault={faultAt(faults, 'pair-chance')}
      />
      <Field
        id="pair-reason"
        label="What it rests on"
        value={reason}
        onChange={setReason}
        fault={faultAt(faults, 'pair-reason')}
      />
      <div className="acts">
        <button className="act" type="submit" aria-disabled={running}>
          Keep it
        </button>
        <button className="act quiet" type="button" onClick={() => setOpen(false)}>
          Leave it as it was
        </button>
      </div>
    </form>
  );
}
