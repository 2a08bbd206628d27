import { type CSSProperties, useState } from 'react';
import type { NamedAnimal } from '../lib/answer-fragments.js';
import { chanceWords } from '../lib/chance-words.js';
import { AnimalLink } from './animal-link.js';
import { TakeAlong } from './take-along.js';
import './founder-shares.css';

/** The smaller shares of a long list wait until they are asked for. */
const FIRST = 20;

/** What part of the genes came from each founder, largest first; what nobody recorded is hatched. */
export function FounderShares(props: {
  readonly programId: string;
  readonly founders: readonly { readonly animal: NamedAnimal; readonly share: number }[];
  readonly unrecorded: number;
}) {
  const { founders, unrecorded } = props;
  const [areAllShown, showAll] = useState(founders.length <= FIRST + 5);
  const shown = areAllShown ? founders : founders.slice(0, FIRST);
  const rest = founders.slice(shown.length);
  const restShare = rest.reduce((sum, { share }) => sum + share, 0);
  const widest = Math.max(unrecorded, ...founders.map(({ share }) => share));
  const bar = (share: number) =>
    ({ '--share': `${widest > 0 ? (share / widest) * 100 : 0}%` }) as CSSProperties;
  return (
    <>
      <table className="founder-shares">
        <caption className="vh">Shares of the founders</caption>
        <thead className="vh">
          <tr>
            <th scope="col">Founder</th>
            <th scope="col">Drawn</th>
            <th scope="col">Share</th>
          </tr>
        </thead>
        <tbody>
          {shown.map(({ animal, share }) => (
            <tr key={animal.id}>
              <th scope="row">
                <AnimalLink programId={props.programId} animal={animal} />
              </th>
              <td>
                <span className="share-bar" style={bar(share)} />
              </td>
              <td className="num">{chanceWords(share)}</td>
            </tr>
          ))}
          {rest.length > 0 && (
            <tr>
              <th scope="row">{rest.length} others, together</th>
              <td />
              <td className="num">{chanceWords(restShare)}</td>
            </tr>
          )}
          {unrecorded > 0 && (
            <tr>
              <th scope="row">animals nobody recorded</th>
              <td>
                <span className="share-bar hatched" style={bar(unrecorded)} />
              </td>
              <td className="num">{chanceWords(unrecorded)}</td>
            </tr>
          )}
        </tbody>
      </table>
      {rest.length > 0 && (
        <button type="button" className="act line" onClick={() => showAll(true)}>
          Show all {founders.length}
        </button>
      )}
      <TakeAlong
        file="founders"
        of="shares of the founders"
        columns={['founder', 'name', 'share']}
        rows={() => [
          ...founders.map(({ animal, share }) => [animal.code, animal.name, share]),
          ['animals nobody recorded', null, unrecorded],
        ]}
      />
    </>
  );
}
