import { useSearchParams } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Cautions } from '../../components/cautions.js';
import { Code } from '../../components/code.js';
import { FaultNote } from '../../components/fault-note.js';
import { GeneFindings } from '../../components/gene-finding.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { KinMatrix } from './kin-matrix.js';
import { Letter } from './letter.js';
import { type SaleCheck, SaleCheckQuery } from './sale-documents.js';
import './sales.css';

const MOST = 40;

/** Some animals before they go: how related, what they carry, what must be told. */
export function SalesPage() {
  const program = useProgram();
  const [params, setParams] = useSearchParams();
  const ids = (params.get('animals') ?? '').split(',').filter(Boolean);
  const setIds = (next: readonly string[]) =>
    setParams(next.length > 0 ? { animals: next.join(',') } : {}, { preventScrollReset: true });
  const { data, waiting, faults, again } = useRead(
    SaleCheckQuery,
    { programId: program.id, animalIds: ids },
    ids.length === 0,
  );
  const check = ids.length > 0 ? data?.saleCheck : undefined;
  return (
    <>
      <Opening
        title="Before a sale"
        sentence={
          ids.length === 0
            ? 'Choose the animals that go, and those they go to, to see what can honestly be said.'
            : check && <Said text={check.sentence} />
        }
      />
      <div className="sale-pick">
        {ids.length < MOST && (
          <AnimalFinder
            id="sale-add"
            programId={program.id}
            label={ids.length === 0 ? 'Animal' : 'One more animal'}
            placeholder="Code or name"
            isOut={(animal) => ids.includes(animal.id)}
            onPick={(animal) => setIds([...ids, animal.id])}
          />
        )}
        {check && (
          <ul className="chosen" aria-busy={waiting}>
            {check.animals.map((animal) => (
              <li key={animal.id}>
                <span>
                  <Code code={animal.code} name={animal.name} />
                </span>
                <button type="button" onClick={() => setIds(ids.filter((id) => id !== animal.id))}>
                  Leave out<span className="vh"> {animal.code}</span>
                </button>
              </li>
            ))}
          </ul>
        )}
      </div>
      <FaultNote faults={faults} again={again} />
      {ids.length > 0 && !check && faults.length === 0 && (
        <Skeleton lines={12} what="what can be said" />
      )}
      {check && <WhatCanBeSaid programId={program.id} check={check} />}
    </>
  );
}

function WhatCanBeSaid({
  programId,
  check,
}: {
  readonly programId: string;
  readonly check: SaleCheck;
}) {
  return (
    <>
      {check.animals.length > 1 && (
        <section className="kin-band" aria-labelledby="kin">
          <h2 id="kin">How related</h2>
          <KinMatrix programId={programId} check={check} />
          <Assumed of="the kinship" lines={check.relatedness.assumptions} />
        </section>
      )}
      <Band
        title="How much is known"
        note="Generations of forebears on record. Unknown is not unrelated."
      >
        <ul className="rows">
          {check.animals.map((animal, k) => (
            <li key={animal.id}>
              <AnimalLink programId={programId} animal={animal} />
              <b>{generationWords(check.relatedness.generationsKnown[k] ?? 0)}</b>
            </li>
          ))}
        </ul>
      </Band>
      <Band title="What you must tell" note="Before money changes hands.">
        <Cautions cautions={check.cautions} />
        <ul className="must-tell">
          {check.mustTell.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Band>
      <Band title="What each carries" note="With the records it rests on.">
        {check.genes.map((row) => (
          <div key={row.animal.id}>
            <h3>
              <AnimalLink programId={programId} animal={row.animal} />
            </h3>
            <GeneFindings findings={row.findings} />
          </div>
        ))}
      </Band>
      <Band
        title="For the buyer"
        note="Claims nothing the records do not hold. Read it before you send it."
      >
        <Letter text={check.letter} />
      </Band>
    </>
  );
}

function generationWords(generations: number): string {
  if (generations === 0) return 'nothing recorded';
  const rounded = Number(generations.toFixed(1));
  return rounded === 1 ? '1 generation' : `${rounded} generations`;
}
