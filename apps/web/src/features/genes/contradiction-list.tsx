import { useState } from 'react';
import { Link } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Skeleton } from '../../components/skeleton.js';
import { type Supposition, WhatIf } from '../../components/what-if.js';
import { addresses } from '../../lib/addresses.js';
import { chanceWords } from '../../lib/chance-words.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';
import './contradiction-list.css';

const ContradictionsQuery = graphql(`
  query Contradictions($programId: ID!) {
    genotypeOdds(programId: $programId, animalIds: []) {
      contradictions {
        recordIds
        records
        animals {
          id
          code
        }
        repairs {
          kind
          animalId
          recordId
          sentence
          probability
        }
      }
    }
  }
`);

type Contradiction = ResultOf<typeof ContradictionsQuery>['genotypeOdds']['contradictions'][number];
type Repair = Contradiction['repairs'][number];

/** Records that cannot all be true, each set with the acts that would settle it and what each would change. */
export function ContradictionList({ programId }: { readonly programId: string }) {
  const { data, faults, again } = useRead(ContradictionsQuery, { programId });
  if (!data) {
    return faults.length > 0 ? (
      <FaultNote faults={faults} again={again} />
    ) : (
      <Skeleton lines={5} what="what would settle it" />
    );
  }
  return data.genotypeOdds.contradictions.map((one) => (
    <OneContradiction key={one.recordIds.join()} programId={programId} contradiction={one} />
  ));
}

function OneContradiction(props: {
  readonly programId: string;
  readonly contradiction: Contradiction;
}) {
  const { records, animals, repairs } = props.contradiction;
  const [chosen, setChosen] = useState<Repair | null>(null);
  return (
    <div className="contradiction">
      <h3>
        {animals.map(({ id, code }, k) => (
          <span key={id}>
            {k > 0 && ', '}
            <Link to={addresses.animal(props.programId, id)} className="code">
              {code}
            </Link>
          </span>
        ))}
      </h3>
      <ul className="assumed">
        {records.map((record) => (
          <li key={record}>{record}</li>
        ))}
      </ul>
      <p className="small soft">
        Each of these would settle it; the likeliest first, by usual rates of slips that we assume.
      </p>
      <ul className="repairs">
        {repairs.map((repair) => (
          <li key={repair.kind + repair.sentence}>
            <span>{repair.sentence}</span>
            <span className="chance">
              {repair.probability > 0 && chanceWords(repair.probability)}
            </span>
            <button
              type="button"
              className="plain-act"
              aria-expanded={chosen === repair}
              onClick={() => setChosen(chosen === repair ? null : repair)}
            >
              What would follow<span className="vh">: {repair.sentence}</span>
            </button>
          </li>
        ))}
      </ul>
      {chosen && (
        <WhatIf
          key={chosen.sentence}
          supposition={suppositionOf(chosen)}
          act="Do it"
          onClose={() => setChosen(null)}
        />
      )}
    </div>
  );
}

const suppositionOf = ({ kind, animalId, recordId }: Repair): Supposition => ({
  kind,
  animalId,
  recordId,
});
