import { useEffect } from 'react';
import { useLocation } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Caution } from '../../components/caution.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { SEX_WORDS, SexShape } from '../../components/sex-shape.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { type FlagGroup, flagGroups } from './flag-groups.js';
import { FlagList } from './flag-list.js';
import { type Pen, type PenConflicts, PenConflictsQuery } from './pen-documents.js';
import { PenPlan } from './pen-plan.js';
import './pens.css';

/** Who lives where, and what presses there. */
export function PensPage() {
  const program = useProgram();
  const { hash } = useLocation();
  const { data, faults, again } = useRead(PenConflictsQuery, { programId: program.id });
  const answer = data?.penConflicts;
  const isHere = answer !== undefined;
  // An address may name a pen: the browser looked for it before the answer had come.
  useEffect(() => {
    if (isHere && hash)
      document.getElementById(decodeURIComponent(hash.slice(1)))?.scrollIntoView();
  }, [isHere, hash]);
  return (
    <>
      <Opening
        title="Pens"
        heading={
          <>
            Pens
            {answer && (
              <span className="soft">
                {partialDateWords({ text: answer.day })}, if nothing is moved
              </span>
            )}
          </>
        }
        sentence={answer && <Said text={answer.sentence} />}
      />
      <FaultNote faults={faults} again={again} />
      {!answer && faults.length === 0 && <Skeleton lines={14} what="the pens" />}
      {answer && <Yard programId={program.id} answer={answer} />}
    </>
  );
}

function Yard({
  programId,
  answer,
}: {
  readonly programId: string;
  readonly answer: PenConflicts;
}) {
  if (answer.pens.length === 0) {
    return (
      <EmptyState title="No pens yet">
        <p>
          A column of your spreadsheet that names where each animal lives makes the pens, once you
          bring it in.
        </p>
      </EmptyState>
    );
  }
  const pens = answer.pens
    .map((pen) => ({
      pen,
      groups: flagGroups(
        answer.flags.filter((flag) => flag.pen.id === pen.id),
        answer.day,
      ),
    }))
    .toSorted((a, b) => pressing(b.groups) - pressing(a.groups));
  return (
    <>
      <nav className="pen-picks" aria-label="Pens">
        <ul>
          {pens.map(({ pen, groups }) => (
            <li key={pen.id}>
              <a href={`#${encodeURIComponent(pen.name)}`}>
                {pen.name} <span className="soft">{pen.animals.length}</span>
                {pressing(groups) > 0 && (
                  <b>
                    <span className="vh">, things that press: </span>
                    {pressing(groups)}
                  </b>
                )}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <Caution
        kind="harm"
        lead="A fight shows first as ramming and wounds at the tail and legs."
        source="Common practice, no source. Local codes, permits and a veterinarian come first."
      >
        Part them the same day, turn over who lies on its back, and have wounds seen by a
        veterinarian.
      </Caution>
      <p className="small soft pen-key">
        Discs by shell length; dashed: not measured. Square male, circle female, diamond not sexed;
        filled: grown enough to fight. Red ring: a danger now. Where each stands in its pen is not
        recorded.
      </p>
      {pens.map(({ pen, groups }) => (
        <PenBand key={pen.id} programId={programId} pen={pen} groups={groups} />
      ))}
      {answer.unplaced.length > 0 && (
        <Band title="In no pen" note="In the books, but nobody wrote where they are.">
          <p>{answer.unplaced.length} animals. What they may meet cannot be said.</p>
          <WhyDrawer of="animals in no pen" label="Who they are">
            <p>
              {answer.unplaced.map((animal, k) => (
                <span key={animal.id}>
                  {k > 0 && ', '}
                  <AnimalLink programId={programId} animal={animal} />
                </span>
              ))}
            </p>
          </WhyDrawer>
        </Band>
      )}
      <Assumed of="the pens" lines={answer.assumptions} />
    </>
  );
}

/** How many flags press now. */
const pressing = (groups: readonly FlagGroup[]) =>
  groups.reduce((sum, { isNow, flags }) => sum + (isNow ? flags.length : 0), 0);

function PenBand(props: {
  readonly programId: string;
  readonly pen: Pen;
  readonly groups: readonly FlagGroup[];
}) {
  const { programId, pen, groups } = props;
  const pressed = new Set(
    groups
      .filter(({ isNow, severity }) => isNow && severity === 'DANGER')
      .flatMap(({ flags }) => flags.flatMap(({ animals }) => animals.map(({ id }) => id))),
  );
  return (
    <section className="pen" aria-labelledby={pen.name} tabIndex={-1}>
      <h2 id={pen.name}>
        {pen.name}{' '}
        <span className="soft">
          {count(pen)}
          {pen.areaM2 === null ? ', area not recorded' : ` on ${pen.areaM2} m²`}
          {pen.isQuarantine && ', quarantine'}
        </span>
      </h2>
      <div className="pen-parts">
        <div>
          {pen.animals.length > 0 && <PenPlan programId={programId} pen={pen} pressed={pressed} />}
          <WhyDrawer of={pen.name} label="Who lives here, as a list">
            <ul className="rows">
              {pen.animals.map(({ animal, sclMm, maturity }) => (
                <li key={animal.id}>
                  <span className="has-glyph">
                    <SexShape sex={animal.sex.sex} />
                    <span>
                      <AnimalLink programId={programId} animal={animal} />
                    </span>
                  </span>
                  <span className="small soft">
                    {SEX_WORDS[animal.sex.sex]}, {maturity}
                    {sclMm === null ? ', not measured' : `, ${Math.round(sclMm)} mm`}
                  </span>
                </li>
              ))}
            </ul>
          </WhyDrawer>
        </div>
        <div>
          {groups.length === 0 ? (
            <p>Nothing presses here, now or in the ten years to come.</p>
          ) : (
            <FlagList of={pen.name} groups={groups} />
          )}
        </div>
      </div>
    </section>
  );
}

/** The trade's count: males.females.unsexed. */
function count({ animals }: Pen): string {
  const of = (sex: string) => animals.filter(({ animal }) => animal.sex.sex === sex).length;
  return `${of('MALE')}.${of('FEMALE')}.${of('UNKNOWN')}`;
}
