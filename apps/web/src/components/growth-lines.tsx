import { dayOfText } from '../lib/calendar.js';
import { partialDateWords } from '../lib/date-words.js';
import { graphql, type ResultOf } from '../lib/graphql.js';
import { useRead } from '../lib/use-read.js';
import { Assumed } from './assumed.js';
import { FaultNote } from './fault-note.js';
import { GrowthPlot, type SizeAt } from './growth-plot.js';
import { Said } from './said.js';
import { Skeleton } from './skeleton.js';
import { TakeAlong } from './take-along.js';
import { WhyDrawer } from './why-drawer.js';

const GrowthQuery = graphql(`
  query Growth($programId: ID!, $animalId: ID!) {
    growth(programId: $programId, animalId: $animalId) {
      sentence
      measurements {
        kind
        value
        date
        method
      }
      forecast {
        on
        middle
        low
        high
      }
      amongMates
      assumptions
    }
  }
`);
type Growth = ResultOf<typeof GrowthQuery>['growth'];

const KIND_WORDS: Readonly<Record<string, string>> = {
  scl: 'shell length, mm',
  plastron: 'plastron, mm',
  curved: 'over the curve, mm',
  mass: 'weight, g',
};

/** How an animal has grown: a sentence, a small plot, the figures, and what is assumed. */
export function GrowthLines(props: {
  readonly programId: string;
  readonly animalId: string;
  readonly code: string;
}) {
  const { data, faults, again } = useRead(GrowthQuery, {
    programId: props.programId,
    animalId: props.animalId,
  });
  const growth = data?.growth;
  if (!growth) {
    return (
      <>
        <FaultNote faults={faults} again={again} />
        {faults.length === 0 && <Skeleton lines={5} what="the measurements" />}
      </>
    );
  }
  const lengths = growth.measurements.flatMap(({ kind, value, date }): SizeAt[] => {
    const day = kind === 'scl' && date ? dayOfText(date) : null;
    return day === null ? [] : [{ day, mm: value }];
  });
  return (
    <>
      <p>
        <Said text={growth.sentence} />
      </p>
      {growth.amongMates && <p>{growth.amongMates}</p>}
      {lengths.length > 0 && (
        <GrowthPlot
          code={props.code}
          lengths={lengths}
          forecast={growth.forecast.flatMap(({ on, middle, low, high }) => {
            const day = dayOfText(on);
            return day === null ? [] : [{ day, mm: middle, low, high }];
          })}
        />
      )}
      {growth.measurements.length > 0 && (
        <WhyDrawer of="growth" label="The figures">
          <Figures growth={growth} />
          <TakeAlong
            file={`growth-${props.code}`}
            of="growth"
            columns={['date', 'kind', 'value', 'low', 'high', 'method']}
            rows={() => [
              ...growth.measurements.map(
                ({ date, kind, value, method }) => [date, kind, value, null, null, method] as const,
              ),
              ...growth.forecast.map(
                ({ on, middle, low, high }) =>
                  [on, 'scl, forecast', middle, low, high, null] as const,
              ),
            ]}
          />
        </WhyDrawer>
      )}
      <Assumed of="growth" lines={growth.assumptions} />
    </>
  );
}

function Figures({ growth }: { readonly growth: Growth }) {
  return (
    // Pushed sideways by the keyboard too.
    <section className="scroll" tabIndex={0} aria-label="Measurements and forecast">
      <table>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col" className="num">
              Figure
            </th>
          </tr>
        </thead>
        <tbody>
          {growth.forecast.toReversed().map(({ on, middle, low, high }) => (
            <tr key={on}>
              <td>{partialDateWords({ text: on.slice(0, 7) })}</td>
              <td>shell length to come, mm</td>
              <td className="num">
                about {Math.round(middle)}, {Math.round(low)} to {Math.round(high)} in 8 of 10
              </td>
            </tr>
          ))}
          {growth.measurements.toReversed().map(({ kind, value, date, method }) => (
            <tr key={`${kind} ${date} ${value}`}>
              <td>{date ? partialDateWords({ text: date }) : 'not written'}</td>
              <td>
                {KIND_WORDS[kind] ?? kind}
                {method && <span className="soft">, {method}</span>}
              </td>
              <td className="num">{value.toLocaleString('en')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
