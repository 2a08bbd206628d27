import { Link, Navigate, useNavigate, useParams, useSearchParams } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Cautions } from '../../components/cautions.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { GeneFindings } from '../../components/gene-finding.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import type { NamedAnimal } from '../../lib/answer-fragments.js';
import { chanceWords } from '../../lib/chance-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { ClutchBand } from './clutch-band.js';
import { eggsOf, MOST_EGGS } from './clutch-size.js';
import { CostBand } from './cost-band.js';
import { OutcomeTrays } from './outcome-trays.js';
import {
  CrossOddsQuery,
  PairByCodeQuery,
  PairCostQuery,
  type TargetOdds,
} from './pairing-documents.js';
import './pairings.css';

/** Under one egg in forty a look is told in words, not drawn. */
const LEAST = 0.025;

/** Two animals: what their eggs can be, how many it takes, and what it costs. */
export function OddsPage() {
  const program = useProgram();
  const { sire = '', dam = '' } = useParams();
  const pair = useRead(PairByCodeQuery, { programId: program.id, sire, dam });
  const trail = <Link to={addresses.pairings(program.id)}>Pairings</Link>;
  const title = `${sire} with ${dam}`;
  // The last pair's answer stays while that of the next is fetched: it must not turn the next round.
  const { sire: one, dam: other } = pair.data ?? {};
  const isOfOthers = one && other && (one.code !== sire || other.code !== dam);
  if (!pair.data || isOfOthers) {
    return (
      <>
        <Opening title={title} trail={trail} />
        <FaultNote faults={pair.faults} again={pair.again} />
        {pair.faults.length === 0 && <Skeleton lines={12} what="the odds" />}
      </>
    );
  }
  if (!pair.data.sire || !pair.data.dam) {
    return (
      <>
        <Opening title={title} trail={trail} sentence="One of the two is not in the books." />
        <EmptyState title={`No animal ${pair.data.sire ? dam : sire}`}>
          <p>
            Its code may have changed since.{' '}
            <Link to={addresses.pairings(program.id)}>Choose two</Link>
          </p>
        </EmptyState>
      </>
    );
  }
  const isSwapped = pair.data.sire.sex.sex === 'FEMALE' && pair.data.dam.sex.sex === 'MALE';
  if (isSwapped) return <Navigate replace to={addresses.odds(program.id, dam, sire)} />;
  return <Odds programId={program.id} sire={pair.data.sire} dam={pair.data.dam} />;
}

function Odds(props: {
  readonly programId: string;
  readonly sire: NamedAnimal;
  readonly dam: NamedAnimal;
}) {
  const { programId, sire, dam } = props;
  const navigate = useNavigate();
  const [params, setParams] = useSearchParams();
  const eggs = eggsOf(params);
  const { data, waiting, faults, again } = useRead(CrossOddsQuery, {
    programId,
    sireId: sire.id,
    damId: dam.id,
    eggs,
  });
  const first = useRead(PairCostQuery, { programId, sireId: sire.id, damId: dam.id });
  const answer = data?.crossOdds;
  const meanwhile = first.data?.crossOdds.inbreeding.sentence;
  const byShare = (answer?.targets ?? []).toSorted((a, b) => b.share.value - a.share.value);
  const likely = byShare.filter(({ share }) => share.value >= LEAST);
  const unlikely = byShare.filter(({ share }) => share.value < LEAST);
  return (
    <>
      <Opening
        title={`${sire.code} with ${dam.code}`}
        heading={
          <>
            <AnimalLink programId={programId} animal={sire} /> <span className="soft">with</span>{' '}
            <AnimalLink programId={programId} animal={dam} />
          </>
        }
        trail={<Link to={addresses.pairings(programId)}>Pairings</Link>}
        sentence={
          answer ? (
            <Said text={answer.sentence} />
          ) : (
            meanwhile &&
            faults.length === 0 && (
              <Said text={`${meanwhile} What their eggs can be is being worked out.`} />
            )
          )
        }
      >
        {answer?.caveat && <p className="then">{answer.caveat}</p>}
      </Opening>
      <FaultNote faults={faults} again={again} />
      {!answer && faults.length === 0 && <Skeleton lines={16} what="the odds" />}
      {answer && (
        <>
          <div className="pick">
            <label htmlFor="clutch-size">Eggs of the clutch that hatch</label>
            <select
              id="clutch-size"
              value={eggs}
              aria-busy={waiting}
              onChange={(event) =>
                setParams({ eggs: event.target.value }, { replace: true, preventScrollReset: true })
              }
            >
              {Array.from({ length: MOST_EGGS }, (_, k) => k + 1).map((n) => (
                <option key={n}>{n}</option>
              ))}
            </select>
          </div>
          {answer.cautions.length > 0 && (
            <Band title="Before you pair them">
              <Cautions cautions={answer.cautions} />
            </Band>
          )}
          {likely.map((target) => (
            <Band
              key={target.trait.id}
              title={capital(target.trait.name)}
              note="20 eggs that hatch. Young of one clutch share what their parents carry, so a clutch is not so many separate throws."
            >
              <OutcomeTrays target={target} />
              <ClutchBand target={target} eggs={target.clutch.length - 1} />
            </Band>
          ))}
          {unlikely.length > 0 && (
            <Band title="Hardly, or not" note="By what is recorded of the two.">
              <ul className="rows">
                {unlikely.map((target) => (
                  <li key={target.trait.id}>
                    <span>
                      {capital(target.trait.name)}
                      {carriedWords(target) && (
                        <span className="small soft block">{carriedWords(target)}</span>
                      )}
                    </span>
                    <b>
                      {target.share.value === 0
                        ? 'none'
                        : `${chanceWords(target.share.value)} eggs`}
                    </b>
                  </li>
                ))}
              </ul>
              {unlikely.some(({ share }) => share.value === 0) && (
                <EmptyState title="Not attainable">
                  <p>
                    What neither can bring no number of eggs will show. A mate that carries it would
                    make it possible.
                  </p>
                </EmptyState>
              )}
            </Band>
          )}
          <Band title="What it costs" note="F, the inbreeding of the young.">
            <CostBand programId={programId} inbreeding={answer.inbreeding} />
          </Band>
          <Band title="Beside another pair" note="What a different father or mother would change.">
            <div className="choose-pair">
              <AnimalFinder
                id="other-father"
                programId={programId}
                label="Another father"
                placeholder="Code or name"
                isOut={(animal) => animal.sex.sex === 'FEMALE' || animal.id === sire.id}
                onPick={(animal) =>
                  navigate(
                    addresses.beside(programId, [sire.code, dam.code], [animal.code, dam.code]),
                  )
                }
              />
              <AnimalFinder
                id="other-mother"
                programId={programId}
                label="Another mother"
                placeholder="Code or name"
                isOut={(animal) => animal.sex.sex === 'MALE' || animal.id === dam.id}
                onPick={(animal) =>
                  navigate(
                    addresses.beside(programId, [sire.code, dam.code], [sire.code, animal.code]),
                  )
                }
              />
            </div>
          </Band>
          <Band title="What it rests on" note="Each label with the records behind it.">
            {answer.parents.map((row) => (
              <div key={row.animal.id}>
                <h3>
                  <AnimalLink programId={programId} animal={row.animal} />
                </h3>
                <GeneFindings animalId={row.animal.id} findings={row.findings} />
              </div>
            ))}
            <Assumed of="the odds" lines={answer.assumptions} />
          </Band>
        </>
      )}
    </>
  );
}

/** What is carried without being seen, where it is more than a hint. */
function carriedWords({ looks, plainSentence }: TargetOdds): string | null {
  const carried = looks.find(({ kind }) => kind === 'CARRIES');
  return carried && carried.share.value >= LEAST ? plainSentence : null;
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
