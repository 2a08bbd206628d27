import { useEffect, useMemo } from 'react';
import { Link, useLocation, useSearchParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Caution } from '../../components/caution.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useAskAgain } from '../../lib/use-ask-again.js';
import { useRead } from '../../lib/use-read.js';
import { ClashList } from './clash-list.js';
import { clashesOn } from './clashes.js';
import { flagGroups } from './flag-groups.js';
import { FlagTable } from './flag-table.js';
import { PenBand, pressing } from './pen-band.js';
import { type PenConflicts, PenConflictsQuery, withSources } from './pen-documents.js';
import { YardPlan } from './yard-plan.js';
import { dayAfter, MOST_YEARS, standsOn } from './yard-time.js';
import { YearSlider } from './year-slider.js';
import './pens.css';

/** Who lives where, and what presses there, now and in the years to come. */
export function PensPage() {
  const program = useProgram();
  const { hash } = useLocation();
  const [params, setParams] = useSearchParams();
  const { data, faults, again } = useRead(PenConflictsQuery, { programId: program.id });
  const told = data?.penConflicts;
  const answer = useMemo(() => told && withSources(told), [told]);
  useAskAgain(told, told?.areGenesPending, again);
  const isHere = answer !== undefined;
  // An address may name a pen: the browser looked for it before the answer had come.
  useEffect(() => {
    if (isHere && hash)
      document.getElementById(decodeURIComponent(hash.slice(1)))?.scrollIntoView();
  }, [isHere, hash]);
  const asked = Number(params.get('years') ?? 0);
  const years = Number.isInteger(asked) && asked > 0 && asked <= MOST_YEARS ? asked : 0;
  const show = (next: number) =>
    setParams(next === 0 ? {} : { years: String(next) }, {
      replace: true,
      preventScrollReset: true,
    });
  return (
    <>
      <Opening
        title="Pens"
        heading={
          <>
            Pens <span className="soft">if nothing is moved</span>
          </>
        }
        sentence={
          answer && <Said text={years === 0 ? answer.sentence : laterWords(answer, years)} />
        }
        acts={
          <Link className="act line" to={addresses.yard(program.id)}>
            Who is where, day by day
          </Link>
        }
      />
      <FaultNote faults={faults} again={again} />
      {!answer && faults.length === 0 && <Skeleton lines={14} what="the pens" />}
      {answer && <Yard programId={program.id} answer={answer} years={years} show={show} />}
    </>
  );
}

const monthWords = (day: string) => partialDateWords({ text: day.slice(0, 7) });

/** `5 things would press in 3 pens by November 2029.` */
function laterWords(answer: PenConflicts, years: number): string {
  const day = dayAfter(answer.day, years);
  const clashes = clashesOn(answer.flags, answer.rules, day);
  const pens = new Set(clashes.map(({ pen }) => pen.id)).size;
  if (clashes.length === 0) return `Nothing would press in any pen by ${monthWords(day)}.`;
  const things = clashes.length === 1 ? '1 thing' : `${clashes.length} things`;
  return `${things} would press in ${pens === 1 ? '1 pen' : `${pens} pens`} by ${monthWords(day)}.`;
}

function Yard(props: {
  readonly programId: string;
  readonly answer: PenConflicts;
  readonly years: number;
  readonly show: (years: number) => void;
}) {
  const { programId, answer, years } = props;
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
  const days = Array.from({ length: MOST_YEARS + 1 }, (_, k) => dayAfter(answer.day, k));
  const day = days[years] ?? answer.day;
  const byYear = days.map((each) => clashesOn(answer.flags, answer.rules, each));
  const clashes = byYear[years] ?? [];
  const when = years === 0 ? `today, ${partialDateWords({ text: answer.day })}` : monthWords(day);
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
      <section className="yard-band" aria-label="Yard plan">
        <YearSlider
          years={years}
          counts={byYear.map((each) => each.length)}
          names={days.map((each) => each.slice(0, 4))}
          when={when}
          onChange={props.show}
        />
        <div className="yard-parts">
          <div>
            <YardPlan pens={answer.pens} clashes={clashes} day={day} years={years} when={when} />
            <p className="small soft pen-key">
              Square male, circle female, diamond not sexed; filled: grown, half: may be grown,
              open: young. Dotted rings: what its length may be then. Dashed: not measured. Red:
              presses then.
            </p>
            <Caution
              kind="harm"
              lead="A fight shows first as ramming and wounds at the tail and legs."
              source="Common practice, no source. Wounds at the tail of 25 % of females in crowded ground, of 75 % where males were far too many: Golubovic et al. 2018, Biol. J. Linn. Soc. Local codes, permits and a veterinarian come first."
            >
              Part them the same day, turn over who lies on its back, and have wounds seen by a
              veterinarian.
            </Caution>
          </div>
          <div>
            <h2>What presses {years === 0 ? 'now' : 'then'}</h2>
            <ClashList programId={programId} clashes={clashes} />
          </div>
        </div>
        <WhyDrawer of="the yard plan" label="The same as a list">
          <FlagTable answer={answer} day={day} />
        </WhyDrawer>
      </section>
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
      {pens.map(({ pen, groups }) => (
        <PenBand
          key={pen.id}
          programId={programId}
          pen={pen}
          groups={groups}
          day={day}
          years={years}
          pressed={
            new Set(
              clashes
                .filter((clash) => clash.pen.id === pen.id && clash.severity === 'DANGER')
                .flatMap(({ animals }) => animals.map(({ id }) => id)),
            )
          }
        />
      ))}
      {answer.unplacedCount > 0 && (
        <Band title="In no pen" note="In the books, but nobody wrote where they are.">
          <p>
            {answer.unplacedCount === 1 ? '1 animal' : `${answer.unplacedCount} animals`}. What they
            may meet cannot be said.
          </p>
          <WhyDrawer of="animals in no pen" label="Who they are">
            <p>
              {answer.unplaced.map((animal, k) => (
                <span key={animal.id}>
                  {k > 0 && ', '}
                  <AnimalLink programId={programId} animal={animal} />
                </span>
              ))}
              {answer.unplacedCount > answer.unplaced.length && (
                <>
                  {' '}
                  and {answer.unplacedCount - answer.unplaced.length} more: all stand on{' '}
                  <Link to={addresses.yard(programId)}>Who is where</Link>.
                </>
              )}
            </p>
          </WhyDrawer>
        </Band>
      )}
      <Band title="The rules" note="What every pen is held against, in this order.">
        <Rules answer={answer} day={day} />
        <Assumed of="the pens" lines={answer.assumptions} />
      </Band>
    </>
  );
}

/** Every rule with what it goes by, its source, and how often it speaks on the day shown and ever. */
function Rules({ answer, day }: { readonly answer: PenConflicts; readonly day: string }) {
  return (
    <ul className="rules">
      {answer.rules.map(({ rule, title, setting, source }) => {
        const own = answer.flags.filter((flag) => flag.rule === rule);
        const standing = own.filter((flag) => standsOn(flag, day)).length;
        return (
          <li key={rule}>
            <p>
              <b>{title}.</b> {setting}
              <span className="small soft block">{source}</span>
            </p>
            <p className="num">
              <b>{standing === 0 ? 'none' : standing}</b>
              <span className="small soft block">
                {own.length === standing
                  ? 'on the day shown'
                  : `on the day shown, ${own.length} within ten years`}
              </span>
            </p>
          </li>
        );
      })}
    </ul>
  );
}
