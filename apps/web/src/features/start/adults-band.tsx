import { type FormEvent, useState } from 'react';
import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import { addresses } from '../../lib/addresses.js';
import { useKeptDraft } from '../../lib/kept-draft.js';
import { useAct } from '../../lib/use-act.js';
import { Gives, TellingFault } from './gives.js';
import { TellAdult, type ToldAnimal } from './start-documents.js';
import { roughYear, useTell } from './use-tell.js';

const SEX = { MALE: 'male', FEMALE: 'female', UNKNOWN: 'sex not known' } as const;
/** Lines listed here; a program that came in by a file may have hundreds. */
const SHOWN = 24;
const FRESH = {
  name: '',
  sex: 'FEMALE' as keyof typeof SEX,
  from: 'ELSEWHERE' as 'ELSEWHERE' | 'HERE',
  seller: '',
  year: '',
};

/** The grown animals, one line each, by the name they are called. */
export function AdultsBand(props: {
  readonly programId: string;
  readonly animals: readonly ToldAnimal[];
  /** Of the whole program. */
  readonly total: number;
}) {
  const { programId, animals, total } = props;
  const { draft, change, startAfresh } = useKeptDraft(`start adult ${programId}`, FRESH);
  const [species, setSpecies] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const add = useAct(TellAdult);
  const { tell, running } = useTell(programId);
  const known = animals[0]?.species ?? species.trim();
  const name = draft.name.trim();
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (add.running || running) return;
    const year = roughYear(draft.year);
    if (!name) return setFault('What do you call it? Boss, or the black one, will do.');
    if (!known) return setFault('Which species are they? For example Testudo hermanni.');
    if (year === null) return setFault('Write the year as 1996, or leave it empty.');
    const isHere = draft.from === 'HERE';
    const about = year ? `${year}~` : null;
    const outcome = await add.run((commandId) => ({
      programId,
      input: {
        commandId,
        code: name,
        species: known,
        sex: draft.sex,
        origin: isHere ? ('HATCHED_HERE' as const) : ('ACQUIRED' as const),
        hatched: isHere ? about : null,
      },
    }));
    if (!outcome.done) {
      return setFault(
        outcome.faults.map((each) => `${each.message} ${each.remedy ?? ''}`).join(' '),
      );
    }
    const { id } = outcome.data.addAnimal.animal;
    // At once: the next name may be typed while the rest is still being written.
    startAfresh();
    document.getElementById('adult-name')?.focus();
    const seller = draft.seller.trim();
    const refused =
      !isHere && (about || seller)
        ? await tell(
            [
              {
                on: about,
                transferred: { animal: id, way: 'RECEIVED', contact: seller || undefined },
              },
            ],
            false,
          )
        : null;
    setFault(refused);
  };
  return (
    <Band title="Your adults" note="By the name you call them. Codes come later, or never.">
      {animals.length > 0 && (
        <ul className="rows told">
          {animals.slice(0, SHOWN).map((animal) => (
            <li key={animal.id}>
              <span>
                <b>{animal.code}</b>, {SEX[animal.sex.sex]}{' '}
                <span className="soft">
                  {animal.origin === 'HATCHED_HERE' ? 'hatched here' : 'from elsewhere'}
                  {animal.hatched && `, about ${animal.hatched.text.replace('~', '')}`}
                </span>
              </span>
              <Link to={addresses.editAnimal(programId, animal.id)}>
                change<span className="vh"> {animal.code}</span>
              </Link>
            </li>
          ))}
        </ul>
      )}
      {total > SHOWN && (
        <p>
          <Link to={addresses.animals(programId)}>All {total} in the register</Link>
        </p>
      )}
      <form className="made" onSubmit={submit} noValidate>
        <h3>{animals.length === 0 ? 'The first one' : 'The next one'}</h3>
        <TellingFault fault={fault} />
        {animals.length === 0 && (
          <Field
            id="adult-species"
            label="Species of your animals"
            hint="The scientific name, once for all: Testudo hermanni."
            value={species}
            onChange={setSpecies}
          />
        )}
        <Field
          id="adult-name"
          label="What you call it"
          value={draft.name}
          onChange={(text) => change({ name: text })}
        />
        <Choice
          label="Sex"
          options={[
            { value: 'MALE', words: 'Male' },
            { value: 'FEMALE', words: 'Female' },
            { value: 'UNKNOWN', words: 'Not known' },
          ]}
          value={draft.sex}
          onChange={(sex) => change({ sex })}
        />
        <Choice
          label="Where from"
          options={[
            { value: 'ELSEWHERE', words: 'From somebody' },
            { value: 'HERE', words: 'Hatched here' },
          ]}
          value={draft.from}
          onChange={(from) => change({ from })}
        />
        {draft.from === 'ELSEWHERE' && (
          <Field
            id="adult-seller"
            label="From whom"
            hint="Spring fair, a neighbour; empty where nobody knows."
            value={draft.seller}
            onChange={(seller) => change({ seller })}
          />
        )}
        <Field
          id="adult-year"
          label={draft.from === 'HERE' ? 'Hatched about' : 'With you since about'}
          hint="A year, give or take; or leave it empty."
          value={draft.year}
          onChange={(year) => change({ year })}
          inputMode="numeric"
        />
        <button className="act" type="submit" aria-disabled={add.running || running}>
          Add {name || 'it'}
        </button>
      </form>
      {animals.length > 1 && (
        <Gives>
          {animals.length} animals, none of them taken as unrelated only because nobody wrote down
          how they are kin.
        </Gives>
      )}
    </Band>
  );
}
