import { Link, useSearchParams } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { SelectField } from '../../components/select-field.js';
import { Skeleton } from '../../components/skeleton.js';
import { TakeAlong } from '../../components/take-along.js';
import { WriteLink } from '../../components/write-link.js';
import { addresses } from '../../lib/addresses.js';
import { todayText } from '../../lib/calendar.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { ClutchesQuery, type ClutchSheet, ClutchYearsQuery } from './clutch-documents.js';
import { motherWords, outcomeWords, seasonSentences, windowOf } from './season-figures.js';
import { SeasonRibbon } from './season-ribbon.js';
import './clutches.css';

const STAGES = [
  { value: 'LAID', words: 'Not yet set' },
  { value: 'INCUBATING', words: 'In the box' },
  { value: 'DONE', words: 'Done' },
] as const;
type Stage = (typeof STAGES)[number]['value'];

/** In the drawing; a longer season is told by the list alone. */
const MOST_DRAWN = 40;

/** The clutches of a year on one time line, and each with what became of it. */
export function ClutchesPage() {
  const program = useProgram();
  const [params, setParams] = useSearchParams();
  const known = useRead(ClutchYearsQuery, { programId: program.id });
  const years =
    known.data &&
    yearsOf(
      known.data.clutches.edges.map(({ node }) => node.laid ?? node.hatchedFrom),
      known.data.seasonSettings.seasonStartMonth,
    );
  const asked = params.get('year');
  const year = asked === 'all' ? null : asked ? Number(asked) : (years?.[0] ?? null);
  const stage = STAGES.find(({ value }) => value === params.get('stage'))?.value ?? null;
  const { data, faults, again } = useRead(
    ClutchesQuery,
    { programId: program.id, first: 200, year, stage },
    years === undefined,
  );
  const today = todayText();
  const sheets = data?.clutches.edges.map(({ node }) => node).toReversed();
  const season = sheets && sheets.length > 0 ? seasonSentences(sheets, today) : null;
  const choose = (name: string, value: string) => {
    const next = new URLSearchParams(params);
    if (value) next.set(name, value);
    else next.delete(name);
    setParams(next, { replace: true, preventScrollReset: true });
  };
  const isEmpty = known.data?.clutches.edges.length === 0;
  return (
    <>
      <Opening
        title="Clutches"
        heading={
          <>
            Clutches <span className="soft">{year ? `season ${year}` : 'of all years'}</span>
          </>
        }
        sentence={season && <Said text={season.counts} />}
        acts={
          program.mayWrite && (
            <>
              <WriteLink programId={program.id} form="laid" className="act">
                Eggs laid
              </WriteLink>
              <WriteLink programId={program.id} form="found" className="act line">
                Young found
              </WriteLink>
            </>
          )
        }
      >
        {season?.toCome && <p className="then">{season.toCome}</p>}
      </Opening>
      <FaultNote faults={[...known.faults, ...faults]} again={again} />
      {!sheets && known.faults.length + faults.length === 0 && (
        <Skeleton lines={12} what="the clutches" />
      )}
      {isEmpty && (
        <EmptyState title="No clutch is written down yet">
          <p>
            Write the first one with the day, the mother and the count: ‘HG-085, 9 May, 7 eggs’. Set
            the eggs with their temperature, and the page tells when young may hatch; who was in her
            pen tells who can be the father.
          </p>
        </EmptyState>
      )}
      {sheets && !isEmpty && (
        <>
          <section className="season-band" aria-label="The season, clutch by clutch">
            <div className="season-pick">
              <SelectField
                id="year"
                label="Season"
                value={asked ?? String(year ?? 'all')}
                options={[
                  ...(years ?? []).map((each) => ({ value: String(each), words: String(each) })),
                  { value: 'all', words: 'All seasons' },
                ]}
                onChange={(value) => choose('year', value)}
              />
              <SelectField
                id="stage"
                label="How far"
                none="All of them"
                value={stage ?? ''}
                options={STAGES}
                onChange={(value) => choose('stage', value)}
              />
            </div>
            {sheets.length === 0 && <p>None of that year and kind.</p>}
            {sheets.length <= MOST_DRAWN && year !== null && (
              <SeasonRibbon programId={program.id} sheets={sheets} today={today} />
            )}
            {sheets.some((sheet) => windowOf(sheet)) && (
              <p className="small soft">
                A window is reckoned from published incubation times at the temperatures you wrote;
                each clutch names its source. Eggs keep no promise.
              </p>
            )}
          </section>
          <Band title="One by one" note="The same as a list, earliest first.">
            <ClutchList programId={program.id} sheets={sheets} today={today} stage={stage} />
            <TakeAlong
              file={`clutches-${year ?? 'all'}`}
              of="the clutches"
              columns={[
                'clutch',
                'laid',
                'mother',
                'eggs',
                'broken',
                'not set',
                'hatched',
                'infertile',
                'died early',
                'died late',
                'lost',
                'open',
                'window from',
                'window to',
              ]}
              rows={() =>
                sheets.map((sheet) => [
                  sheet.clutch.code,
                  sheet.laid,
                  motherWords(sheet),
                  sheet.eggs,
                  sheet.broken,
                  sheet.notSet,
                  sheet.hatched,
                  sheet.losses.infertile,
                  sheet.losses.diedEarly,
                  sheet.losses.diedLate,
                  sheet.losses.lost,
                  sheet.open,
                  windowOf(sheet)?.from ?? null,
                  windowOf(sheet)?.to ?? null,
                ])
              }
            />
          </Band>
        </>
      )}
    </>
  );
}

function ClutchList(props: {
  readonly programId: string;
  readonly sheets: readonly ClutchSheet[];
  readonly today: string;
  readonly stage: Stage | null;
}) {
  return (
    <ul className="clutch-list">
      {props.sheets.map((sheet) => (
        <li key={sheet.clutch.id}>
          <Link to={addresses.clutch(props.programId, sheet.clutch.id)}>
            <span className="code">{sheet.clutch.code ?? 'Without a code'}</span>
          </Link>{' '}
          <span className="soft">
            {sheet.laid
              ? `laid ${partialDateWords({ text: sheet.laid })}`
              : sheet.hatchedFrom
                ? `hatched ${sheet.hatchedFrom.slice(0, 4)}, laying date not known`
                : 'laying date not known'}
          </span>
          <p>{sheet.sentence}</p>
          {sheet.stage !== 'DONE' && (
            <p className="small soft">{outcomeWords(sheet, props.today)}</p>
          )}
        </li>
      ))}
    </ul>
  );
}

/** The years in which the seasons began that clutches were laid in (or hatched, where that is all that is known), latest first. */
function yearsOf(laid: readonly (string | null)[], startMonth: number): number[] {
  const years = laid.flatMap((text) => {
    if (!text) return [];
    const month = Number(text.slice(5, 7)) || 12;
    return [Number(text.slice(0, 4)) - (month < startMonth ? 1 : 0)];
  });
  return [...new Set(years)].toSorted((a, b) => b - a);
}
