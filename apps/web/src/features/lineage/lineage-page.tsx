import { Link, useParams, useSearchParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Choice } from '../../components/choice.js';
import { CompletenessBars } from '../../components/completeness-bars.js';
import { FaultNote } from '../../components/fault-note.js';
import { FounderShares } from '../../components/founder-shares.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { SexShape } from '../../components/sex-shape.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { Word } from '../../components/word.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useAskAgain } from '../../lib/use-ask-again.js';
import { useRead } from '../../lib/use-read.js';
import { fitsPaper } from './chart-geometry.js';
import { FatherTable } from './father-table.js';
import { FatherWhy } from './father-why.js';
import { KinBand } from './kin-band.js';
import { LineageChart } from './lineage-chart.js';
import { BACK, LineageQuery, ON, reachOf } from './lineage-documents.js';
import { LineageLadder } from './lineage-ladder.js';
import { SupposeBand } from './suppose-band.js';
import { useMedia } from './use-media.js';
import { usePrinting } from './use-printing.js';
import { YoungBand } from './young-band.js';
import './lineage.css';

/** Where an animal comes from: chart, possible fathers, founders, how much is recorded. */
export function LineagePage() {
  const program = useProgram();
  const { animalId = '' } = useParams();
  const [params, setParams] = useSearchParams();
  const { back, on } = reachOf(params);
  const choose = (next: { back?: string; on?: string }) =>
    setParams({ back, on, ...next }, { replace: true, preventScrollReset: true });
  const { data, faults, again } = useRead(LineageQuery, {
    programId: program.id,
    animalId,
    up: Number(back),
    down: Number(on),
  });
  const lineage = data?.lineage;
  useAskAgain(lineage, lineage?.areGenesPending, again);
  const isWide = useMedia('(min-width: 761px)');
  const isPaper = usePrinting();
  const isChart = lineage && (isPaper ? fitsPaper(lineage) : isWide);
  return (
    <>
      <Opening
        title={lineage ? `Lineage of ${lineage.animal.code}` : 'Lineage'}
        heading={
          lineage && (
            <>
              Lineage of <AnimalLink programId={program.id} animal={lineage.animal} />
            </>
          )
        }
        trail={<Link to={addresses.lineages(program.id)}>Lineage</Link>}
        sentence={lineage && <Said text={lineage.sentence} />}
        acts={
          lineage && (
            <button type="button" className="act line" onClick={() => window.print()}>
              Print it
            </button>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      {!lineage && faults.length === 0 && <Skeleton lines={14} what="the lineage" />}
      {lineage && (
        <>
          <section className="chart-band" aria-label="Chart">
            <div className="chart-reach">
              <Choice
                label="Generations back"
                value={back}
                onChange={(value) => choose({ back: value })}
                options={BACK.map((value) => ({ value, words: value }))}
              />
              <div className="only-wide">
                <Choice
                  label="Generations on, to its young"
                  value={on}
                  onChange={(value) => choose({ on: value })}
                  options={ON.map((value) => ({ value, words: value }))}
                />
              </div>
            </div>
            {isChart ? (
              <div>
                <LineageChart
                  key={lineage.animal.id}
                  programId={program.id}
                  lineage={lineage}
                  back={Number(back)}
                />
                <ChartKey />
                <WhyDrawer of="the chart" label="The same as a list">
                  {() => (
                    <LineageLadder programId={program.id} lineage={lineage} back={Number(back)} />
                  )}
                </WhyDrawer>
              </div>
            ) : (
              <LineageLadder
                programId={program.id}
                lineage={lineage}
                back={Number(back)}
                isWhole={isPaper}
              />
            )}
          </section>
          {lineage.fathers.length > 0 && (
            <Band title="Possible fathers" note="Together certain; each figure is rounded.">
              {lineage.areGenesPending && (
                <p className="small" role="status" aria-busy="true">
                  What the colours say of them is still being worked out: they stand as who was
                  where has them.
                </p>
              )}
              <FatherTable programId={program.id} fathers={lineage.fathers} />
              <FatherWhy programId={program.id} animalId={lineage.animal.id} />
            </Band>
          )}
          <SupposeBand programId={program.id} lineage={lineage} />
          <Band
            title="Founders' shares"
            note={
              <>
                What part of its genes each <Word means="founder" /> is expected to have brought.
              </>
            }
          >
            <FounderShares
              programId={program.id}
              founders={lineage.founders}
              unrecorded={lineage.unrecorded}
            />
          </Band>
          <KinBand programId={program.id} animal={lineage.animal} />
          <YoungBand programId={program.id} lineage={lineage} />
          <Band
            title="How much is recorded"
            note={
              <>
                Unknown is not unrelated.{' '}
                <Word means="how much is recorded">What the bars count</Word>
              </>
            }
          >
            <CompletenessBars
              shares={lineage.completeness.slice(0, firstNone(lineage.completeness) + 1)}
            />
            <Assumed of="the lineage" lines={lineage.assumptions} />
          </Band>
        </>
      )}
    </>
  );
}

/** Further back than the first generation of which nothing is recorded, nothing is. */
const firstNone = (shares: readonly number[]) => {
  const at = shares.findIndex((share) => share <= 0);
  return at < 0 ? shares.length : at;
};

function ChartKey() {
  return (
    <>
      <ul className="key">
        <li>
          <SexShape sex="MALE" /> male
        </li>
        <li>
          <SexShape sex="FEMALE" /> female
        </li>
        <li>
          <SexShape sex="UNKNOWN" /> not yet sexed
        </li>
        <li>
          <span className="swatch founder" /> founder
        </li>
        <li>
          <span className="swatch double" /> related parents
        </li>
        <li>
          <span className="swatch wide" /> the wider, the likelier
        </li>
        <li>
          <span className="swatch dashed" /> one nobody recorded
        </li>
      </ul>
      <p className="small soft walk-note">
        Parents stand to the right of their young. Arrow keys walk from animal to parent, Home and
        End along a generation; Enter opens the lineage of the one you stand on. + and - make the
        chart larger and smaller.
      </p>
    </>
  );
}
