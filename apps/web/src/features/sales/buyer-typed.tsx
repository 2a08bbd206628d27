import { useState } from 'react';
import { AnimalFinder } from '../../components/animal-finder.js';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import type { Sex } from '../../components/sex-shape.js';
import type { BuyerAnimal, BuyerParent } from './buyer.js';

interface TypedParent {
  readonly parent: BuyerParent;
  readonly words: string;
}

/** One animal of the buyer's, typed in: code, sex, and parents where they may be kin of ours. */
export function BuyerTyped(props: {
  readonly programId: string;
  readonly taken: readonly string[];
  readonly onAdd: (animal: BuyerAnimal) => void;
}) {
  const [code, setCode] = useState('');
  const [sex, setSex] = useState<Sex>('UNKNOWN');
  const [sire, setSire] = useState<TypedParent | null>(null);
  const [dam, setDam] = useState<TypedParent | null>(null);
  const [fault, setFault] = useState<string | undefined>();
  const add = () => {
    const name = code.trim();
    if (name === '') return setFault('Give it a code or a name, as the buyer calls it.');
    if (/[|:;,]/.test(name)) return setFault('Leave out | : ; and commas.');
    if (props.taken.includes(name)) return setFault(`${name} is among the buyer's already.`);
    props.onAdd({
      code: name,
      sex,
      isAsked: true,
      sires: sire ? [sire.parent] : [],
      dams: dam ? [dam.parent] : [],
    });
    setCode('');
    setSex('UNKNOWN');
    setSire(null);
    setDam(null);
    setFault(undefined);
  };
  const parent = (
    which: 'Father' | 'Mother',
    picked: TypedParent | null,
    pick: (parent: TypedParent | null) => void,
  ) =>
    picked ? (
      <p className="picked-parent">
        <span className="small soft block">{which}</span>
        <b>{picked.words}</b>{' '}
        <button type="button" className="plain-act" onClick={() => pick(null)}>
          Another<span className="vh"> {which.toLowerCase()}</span>
        </button>
      </p>
    ) : (
      <AnimalFinder
        id={`buyer-${which}`}
        programId={props.programId}
        label={`${which}, if known`}
        placeholder="One of ours, or their code"
        isOut={(animal) => animal.sex.sex === (which === 'Father' ? 'FEMALE' : 'MALE')}
        onPick={(animal) =>
          pick({ parent: { animalId: animal.id }, words: `${animal.code}, ours` })
        }
        onEnterText={(text) => pick({ parent: { code: text }, words: `${text}, the buyer's` })}
      />
    );
  return (
    <form
      className="buyer-typed"
      onSubmit={(event) => {
        event.preventDefault();
        add();
      }}
    >
      <Field
        id="buyer-code"
        label="The buyer's animal"
        hint="Its code or name"
        value={code}
        onChange={setCode}
        fault={fault}
        autoCapitalize="none"
      />
      <Choice
        label="Sex"
        value={sex}
        options={[
          { value: 'MALE', words: 'male' },
          { value: 'FEMALE', words: 'female' },
          { value: 'UNKNOWN', words: 'not sexed' },
        ]}
        onChange={setSex}
      />
      {parent('Father', sire, setSire)}
      {parent('Mother', dam, setDam)}
      <button type="submit" className="act line">
        Add to the check
      </button>
    </form>
  );
}
