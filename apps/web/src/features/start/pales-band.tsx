import { type FormEvent, useState } from 'react';
import { Band } from '../../components/band.js';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import { newCommandId } from '../../lib/command-id.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { Chips } from './chips.js';
import { Gives, TellingFault } from './gives.js';
import { NewTrait } from './new-trait.js';
import type { Told, ToldAnimal } from './start-documents.js';
import { ToldLines } from './told-lines.js';
import { roughYear, type TellingEntry, useTell } from './use-tell.js';

const FRESH = {
  what: 'KEPT' as 'KEPT' | 'GONE' | 'SHELL',
  name: '',
  year: '',
  dams: [] as readonly string[],
  parts: '',
  plain: '',
};

/** Which ones were pale, and who threw pale ones. */
export function PalesBand(props: {
  readonly programId: string;
  readonly told: Told;
  readonly animals: readonly ToldAnimal[];
}) {
  const { programId, told, animals } = props;
  const { traits } = told.definitions;
  const [traitId, setTraitId] = useState<string | null>(null);
  const trait = traits.find(({ id }) => id === traitId) ?? traits[0];
  return (
    <Band title="Who was pale" note="And who threw pale ones. The rest can stay untold.">
      <ToldLines
        told={told}
        kinds={['entry-laid', 'entry-hatched', 'entry-eggs', 'entry-colour']}
      />
      {!trait && <NewTrait programId={programId} />}
      {trait && (
        <>
          {traits.length > 1 && (
            <Choice
              label="Which look"
              options={traits.map(({ id, name }) => ({ value: id, words: name }))}
              value={trait.id}
              onChange={setTraitId}
            />
          )}
          <ShowingAdults programId={programId} animals={animals} trait={trait} />
          <PaleYoung programId={programId} animals={animals} trait={trait} />
          {told.history.edges.some(
            ({ node }) => ['entry-colour', 'entry-eggs'].includes(node.kind) && !node.undone,
          ) && (
            <Gives>
              who shows it, and that both parents of a {trait.name} one had it in them, seen or
              unseen. Young that nobody looked at are held against nobody.
            </Gives>
          )}
        </>
      )}
    </Band>
  );
}

interface OfTrait {
  readonly programId: string;
  readonly animals: readonly ToldAnimal[];
  readonly trait: { readonly id: string; readonly name: string };
}

function ShowingAdults({ programId, animals, trait }: OfTrait) {
  const [chosen, setChosen] = useState<string[]>([]);
  const [fault, setFault] = useState<string | null>(null);
  const { tell, running } = useTell(programId);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running) return;
    if (chosen.length === 0) return setFault(`Tap those that are ${trait.name}.`);
    const entries = chosen.map((animal) => ({ colour: { animal, seen: [trait.id] } }));
    const refused = await tell(entries, true);
    setFault(refused);
    if (!refused) setChosen([]);
  };
  return (
    <form className="made" onSubmit={submit} noValidate>
      <h3>Animals here that are {trait.name}</h3>
      <TellingFault fault={fault} />
      <Chips legend="These" animals={animals} chosen={chosen} onChange={setChosen} />
      <button className="act" type="submit" aria-disabled={running}>
        They are {trait.name}
      </button>
    </form>
  );
}

function PaleYoung({ programId, animals, trait }: OfTrait) {
  const { draft, change, startAfresh } = useKeptDraft(`start pale ${programId}`, FRESH);
  const [fault, setFault] = useState<string | null>(null);
  const { tell, running } = useTell(programId);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running) return;
    const year = roughYear(draft.year);
    const name = draft.name.trim();
    const plain = Number(draft.plain || '0');
    if (!year) return setFault('In which year? 2015, give or take, will do.');
    if (draft.what === 'KEPT' && !name) return setFault('What do you call it?');
    if (!(Number.isInteger(plain) && plain >= 0 && plain < 1000)) {
      return setFault('How many plain ones: a whole number, or leave it empty.');
    }
    const refused = await tell(paleYoung(draft, year, plain, trait.id), true);
    setFault(refused);
    if (!refused) startAfresh();
  };
  return (
    <form className="made" onSubmit={submit} noValidate>
      <h3>A {trait.name} young one</h3>
      <TellingFault fault={fault} />
      <Choice
        label="What became of it"
        options={[
          { value: 'KEPT', words: 'Kept' },
          { value: 'GONE', words: 'Not kept' },
          { value: 'SHELL', words: 'Dead in the shell' },
        ]}
        value={draft.what}
        onChange={(what) => change({ what })}
      />
      {draft.what === 'KEPT' && (
        <Field
          id="pale-name"
          label="What you call it"
          value={draft.name}
          onChange={(name) => change({ name })}
        />
      )}
      <Field
        id="pale-year"
        label="Year"
        inputMode="numeric"
        value={draft.year}
        onChange={(year) => change({ year })}
      />
      <Chips
        legend="Whose egg: tap all it may be"
        animals={animals.filter(({ sex }) => sex.sex !== 'MALE')}
        chosen={draft.dams}
        onChange={(dams) => change({ dams })}
      />
      <Field
        id="pale-parts"
        label="What you saw"
        hint="Eye, shell, skin: 'pink eyes, yellow shell'. May stay empty."
        value={draft.parts}
        onChange={(parts) => change({ parts })}
      />
      <Field
        id="pale-plain"
        label="Plain ones of the same laying that somebody looked at"
        hint="Only those looked at; the others stay 'not looked at'."
        inputMode="numeric"
        value={draft.plain}
        onChange={(plain) => change({ plain })}
      />
      <button className="act" type="submit" aria-disabled={running}>
        Write it down
      </button>
    </form>
  );
}

/** The laying with its pale young one, as entries: the clutch bears the id of the first. */
function paleYoung(
  draft: typeof FRESH,
  year: string,
  plain: number,
  trait: string,
): TellingEntry[] {
  const clutch = newCommandId();
  const parts = draft.parts.trim() || undefined;
  const code = draft.name.trim();
  const entries: TellingEntry[] = [
    { id: clutch, on: year, laid: { dams: draft.dams.map((ref) => ({ ref })) } },
  ];
  if (plain > 0) entries.push({ on: year, colour: { clutch, looked: plain, counts: [] } });
  if (draft.what === 'KEPT') {
    entries.push(
      { on: year, hatched: { clutch, count: 1, codes: [code] } },
      { on: year, colour: { animal: code, seen: [trait], parts } },
    );
  } else if (draft.what === 'GONE') {
    entries.push({ on: year, colour: { clutch, looked: 1, counts: [{ trait, count: 1 }], parts } });
  } else {
    entries.push({
      on: year,
      note: parts,
      eggs: { clutch, diedLate: 1, embryosSeen: [{ trait, count: 1 }] },
    });
  }
  return entries;
}
