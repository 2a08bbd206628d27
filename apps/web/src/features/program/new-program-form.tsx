import { type FormEvent, useState } from 'react';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { graphql } from '../../lib/graphql.js';
import { useAct } from '../../lib/use-act.js';

const CreateProgram = graphql(`
  mutation CreateProgram($input: CreateProgramInput!) {
    createProgram(input: $input) {
      id
      name
    }
  }
`);

/** Names and makes a program; whoever makes it owns it. */
export function NewProgramForm({ onDone }: { readonly onDone: (programId: string) => void }) {
  const [name, setName] = useState('');
  const [faults, setFaults] = useState<FormFault[]>([]);
  const { run, running } = useAct(CreateProgram);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (!name.trim()) return setFaults([{ field: 'name', message: 'Give the program a name.' }]);
    if (running) return;
    const outcome = await run((commandId) => ({ input: { commandId, name: name.trim() } }));
    if (outcome.done) onDone(outcome.data.createProgram.id);
    else setFaults(formFaults(outcome.faults, () => 'name'));
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      <Field
        id="name"
        label="Name of the program"
        hint="It stands on every page and printed sheet. Such as North Yard, or your own name."
        value={name}
        onChange={setName}
        fault={faultAt(faults, 'name')}
      />
      <div className="acts">
        <button className="act" type="submit" aria-disabled={running}>
          {running ? 'Making it' : 'Make the program'}
        </button>
      </div>
    </form>
  );
}
