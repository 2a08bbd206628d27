import { type FormEvent, useState } from 'react';
import { useNavigate } from 'react-router';
import { AnimalPicks } from '../../components/animal-picks.js';
import { CountField } from '../../components/count-field.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { addresses } from '../../lib/addresses.js';
import { useTellDone } from '../../lib/done-context.js';
import { typedDate, typedDateText } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import { type ClutchDetail, EditClutch, RemoveClutch } from './clutch-documents.js';

const FIELDS = ['code', 'laid', 'eggs', 'broken', 'notSet', 'dams'];
const fieldOf = (place: string) => {
  const name = place.split('.').find((part) => FIELDS.includes(part));
  return name && `correct-${name}`;
};

/** Mends what is written of the clutch itself, or removes it. Both can be undone. */
export function CorrectClutch(props: { readonly programId: string; readonly sheet: ClutchDetail }) {
  const { programId, sheet } = props;
  const edit = useAct(EditClutch);
  const remove = useAct(RemoveClutch);
  const tellDone = useTellDone();
  const navigate = useNavigate();
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const [code, setCode] = useState(sheet.clutch.code ?? '');
  const [laid, setLaid] = useState(() => typedDate(sheet.laid));
  const [counts, setCounts] = useState({
    eggs: sheet.eggs === null ? '' : String(sheet.eggs),
    broken: sheet.broken === 0 ? '' : String(sheet.broken),
    notSet: sheet.notSet === 0 ? '' : String(sheet.notSet),
  });
  const known = sheet.dam.candidates.map(({ animal: { id, code: of } }) => ({ id, code: of }));
  const [dams, setDams] = useState<readonly { id: string; code: string }[]>(known);
  const isMoved = dams.map(({ id }) => id).join() !== known.map(({ id }) => id).join();
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (edit.running) return;
    const wrong = (Object.keys(counts) as (keyof typeof counts)[]).filter(
      (name) => !/^\d*$/.test(counts[name].trim()),
    );
    if (wrong.length > 0) {
      setFaults(
        wrong.map((name) => ({ field: `correct-${name}`, message: 'Write a whole number.' })),
      );
      return;
    }
    const count = (text: string) => (text.trim() === '' ? null : Number(text));
    const outcome = await edit.run((commandId) => ({
      programId,
      input: {
        commandId,
        clutchId: sheet.clutch.id,
        ...(code.trim() && code.trim() !== sheet.clutch.code ? { code: code.trim() } : {}),
        laid: typedDateText(laid) || null,
        eggs: count(counts.eggs),
        broken: count(counts.broken),
        notSet: count(counts.notSet),
        ...(isMoved ? { dams: dams.map(({ id }) => ({ animalId: id })) } : {}),
      },
    }));
    if (!outcome.done) {
      setFaults(formFaults(outcome.faults, fieldOf));
      return;
    }
    setFaults([]);
    tellDone({
      sentence: `${code.trim() || 'The clutch'} is mended.`,
      commandId: outcome.data.editClutch.commandId,
    });
  };
  const strikeOut = async () => {
    if (remove.running) return;
    const outcome = await remove.run((commandId) => ({
      programId,
      input: { commandId, clutchId: sheet.clutch.id },
    }));
    if (!outcome.done) {
      setFaults(formFaults(outcome.faults, () => undefined));
      return;
    }
    const { id, sentence } = outcome.data.removeClutch.command;
    tellDone({ sentence, commandId: id });
    navigate(addresses.clutches(programId));
  };
  const counted = (name: keyof typeof counts, label: string) => (
    <CountField
      id={`correct-${name}`}
      label={label}
      value={counts[name]}
      onChange={(value) => setCounts({ ...counts, [name]: value })}
      fault={faultAt(faults, `correct-${name}`)}
    />
  );
  return (
    <WhyDrawer of="what is written" label="Correct what is written">
      <form className="onecol" onSubmit={submit} noValidate>
        <ErrorSummary faults={faults} />
        <Field
          id="correct-code"
          label="Code of the clutch"
          autoComplete="off"
          value={code}
          onChange={setCode}
          fault={faultAt(faults, 'correct-code')}
        />
        <PartialDateField
          id="correct-laid"
          label="Laid"
          value={laid}
          onChange={setLaid}
          fault={faultAt(faults, 'correct-laid')}
        />
        <AnimalPicks
          id="correct-dams"
          programId={programId}
          label="Mother"
          hint="Several, where it may be one of them. Fathers that follow from who was where move with her."
          codes={dams.map((dam) => dam.code)}
          isOut={(animal) => animal.sex.sex === 'MALE'}
          onChange={(codes) => setDams(dams.filter((dam) => codes.includes(dam.code)))}
          onPick={(dam) => setDams([...dams, { id: dam.id, code: dam.code }])}
          fault={faultAt(faults, 'correct-dams')}
        />
        {counted('eggs', 'Eggs')}
        {counted('broken', 'Of them broken')}
        {counted('notSet', 'Of them not set')}
        <div className="acts">
          <button type="submit" className="act" aria-disabled={edit.running}>
            Keep the changes
          </button>
          <button type="button" className="act quiet" onClick={strikeOut}>
            Remove the clutch: it was written by mistake
          </button>
        </div>
      </form>
    </WhyDrawer>
  );
}
