import { ClutchPlot } from '../../components/clutch-plot.js';
import { TakeAlong } from '../../components/take-along.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { TargetOdds } from './pairing-documents.js';

/** How many of the sought kind a clutch may hold, and how many eggs it takes to have one. */
export function ClutchBand(props: { readonly target: TargetOdds; readonly eggs: number }) {
  const { target, eggs } = props;
  const name = target.trait.name;
  return (
    <div className="clutch">
      <ClutchPlot
        exactly={target.clutch.map(({ exactly }) => exactly)}
        what={`${name}, in a clutch of ${eggs} that hatch`}
      />
      <div>
        <h3>
          At least one {name}: {target.atLeastOne.said}
        </h3>
        <table>
          <caption>
            {capital(name)}, of {eggs} that hatch
          </caption>
          <thead>
            <tr>
              <th scope="col">Count</th>
              <th scope="col" className="num">
                exactly
              </th>
              <th scope="col" className="num">
                at least
              </th>
            </tr>
          </thead>
          <tbody>
            {target.clutch
              .filter(({ count, atLeast }) => count === 0 || atLeast >= 0.005)
              .map(({ count, exactly, atLeast }) => (
                <tr key={count}>
                  <th scope="row">{count}</th>
                  <td className="num">{chanceWords(exactly)}</td>
                  <td className="num">{chanceWords(atLeast)}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </div>
      <div>
        <EggsNeeded target={target} />
        <TakeAlong
          file={`${name} in ${eggs} eggs`}
          of={`how many ${name} in a clutch`}
          columns={['count', 'exactly', 'at least']}
          rows={() => target.clutch.map((each) => [each.count, each.exactly, each.atLeast])}
        />
      </div>
    </div>
  );
}

function EggsNeeded({ target }: { readonly target: TargetOdds }) {
  const limit = (
    <>
      However many eggs, at least one comes to no more than <b>{target.limit.said}</b>: if the
      parents do not carry it after all, none will ever show it.
    </>
  );
  const attainable = target.eggsNeeded.filter(({ eggs }) => eggs !== null);
  return (
    <div className="needed">
      <h3>Eggs that must hatch to have one</h3>
      {attainable.length > 0 && (
        <table>
          <caption className="vh">Eggs needed to have at least one</caption>
          <thead>
            <tr>
              <th scope="col">To be as sure as</th>
              <th scope="col" className="num">
                eggs
              </th>
            </tr>
          </thead>
          <tbody>
            {target.eggsNeeded.map(({ level, eggs }) => (
              <tr key={level}>
                <th scope="row">{chanceWords(level)}</th>
                <td className="num">{eggs ?? <b className="soft">not attainable</b>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {attainable.length === 0 && (
        <p>
          <b>Not attainable</b>, not even {chanceWords(target.eggsNeeded[0]?.level ?? 0.9)} sure.{' '}
          {limit}
        </p>
      )}
      {attainable.length > 0 && attainable.length < target.eggsNeeded.length && (
        <p className="small">{limit}</p>
      )}
    </div>
  );
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
