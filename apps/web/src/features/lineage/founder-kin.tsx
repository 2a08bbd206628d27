import { useState } from 'react';
import { Choice } from '../../components/choice.js';
import { FaultNote } from '../../components/fault-note.js';
import { Said } from '../../components/said.js';
import { SelectField } from '../../components/select-field.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import { graphql } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';

const KinSupposedQuery = graphql(`
  query KinSupposed(
    $programId: ID!
    $animalId: ID!
    $otherId: ID!
    $founderId: ID!
    $otherFounderId: ID!
    $kinship: FounderKinship!
  ) {
    kinSupposed(
      programId: $programId
      animalId: $animalId
      otherId: $otherId
      input: { founderId: $founderId, otherFounderId: $otherFounderId, kinship: $kinship }
    ) {
      sentence
    }
  }
`);

const KINSHIPS = [
  { value: 'FULL', words: 'full brother and sister' },
  { value: 'HALF', words: 'half brother and sister' },
] as const;

const named = ({ id, code, name }: NamedAnimal) => ({
  value: id,
  words: name ? `${code} ${name}` : code,
});

/** 'Suppose these two founders are brother and sister': what it would do to the young of two animals. Nothing is written. */
export function FounderKin(props: {
  readonly programId: string;
  readonly animal: NamedAnimal;
  readonly other: NamedAnimal;
  /** Founders behind the one and behind the other. */
  readonly founders: readonly NamedAnimal[];
  readonly otherFounders: readonly NamedAnimal[];
}) {
  const { programId, animal, other, founders, otherFounders } = props;
  const [founderId, setFounder] = useState('');
  const [otherFounderId, setOther] = useState('');
  const [kinship, setKinship] = useState<'FULL' | 'HALF'>('FULL');
  const isAsked = founderId !== '' && otherFounderId !== '';
  const { data, faults, again } = useRead(
    KinSupposedQuery,
    { programId, animalId: animal.id, otherId: other.id, founderId, otherFounderId, kinship },
    !isAsked,
  );
  return (
    <details className="why founder-kin">
      <summary>Suppose two founders are kin</summary>
      <p className="soft">
        The books take founders as strangers. Two that were bought from one place may be brother and
        sister, or parent and young, which counts alike. Nothing is written.
      </p>
      <div className="onecol">
        <SelectField
          id="founder-kin-one"
          label={`A founder behind ${animal.code}`}
          none="Choose"
          value={founderId}
          options={founders.map(named)}
          onChange={setFounder}
        />
        <SelectField
          id="founder-kin-other"
          label={`A founder behind ${other.code}`}
          none="Choose"
          value={otherFounderId}
          options={otherFounders.filter(({ id }) => id !== founderId).map(named)}
          onChange={setOther}
        />
        <Choice label="They are" options={KINSHIPS} value={kinship} onChange={setKinship} />
      </div>
      <FaultNote faults={faults} again={again} />
      <p className="lead" aria-live="polite">
        {isAsked && data && <Said text={data.kinSupposed.sentence} />}
      </p>
    </details>
  );
}
