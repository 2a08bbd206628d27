import type { CSSProperties } from 'react';
import type { NamedAnimal } from '../lib/answer-fragments.js';
import { chanceWords } from '../lib/chance-words.js';
import { AnimalLink } from './animal-link.js';
import { TakeAlong } from './take-along.js';
import './founder-shares.css';

/** What part of the genes came from each founder, largest first; what nobody recorded is hatched. */
export function FounderShares(props: {
  readonly programId: string;
  readonly founders: readonly { readonly animal: NamedAnimal; readonly share: number }[];
  readonly unrecorded: number;
}) {
  const { founders, unrecorded } = props;
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
          {founders.map(({ animal, share }) => (
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
