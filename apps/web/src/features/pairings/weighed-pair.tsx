import { Link } from 'react-router';
import { TakeAlong } from '../../components/take-along.js';
import { WideTable } from '../../components/wide-table.js';
import { addresses } from '../../lib/addresses.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { WeighedPair } from './pairing-documents.js';

/** `1.8 young`, `under 0.1 young`, `no young`. */
export function youngWords(value: number): string {
  if (value <= 0) return 'no young';
  return value < 0.1 ? 'under 0.1 young' : `${value.toFixed(1)} young`;
}

/** What is multiplied to the figure of a pair: a picture each, with its number. */
export function PairParts({ pair }: { readonly pair: WeighedPair }) {
  const { parts } = pair;
  return (
    <ul className="parts" aria-label="The parts of the figure">
      <li>
        <b>{Number(parts.eggs.toFixed(1))} eggs</b> a season
      </li>
      <Part words="fertile" share={parts.fertility} />
      <Part words="of those hatch" share={parts.hatch} />
      <Part words={`left by F ${kinWords(pair)}`} share={parts.inbreedingSurvival} />
      <Part words="of the sought kind" share={parts.target} />
    </ul>
  );
}

/** `0.125`, `0, no parents of SG-003 recorded`. */
export function kinWords({ F, unknownBehind }: WeighedPair): string {
  const figure = inbreedingWords(F);
  if (unknownBehind.length === 0) return figure;
  return `${figure}, no parents recorded of ${unknownBehind.map(({ code }) => code).join(' and ')}`;
}

/** A part of the figure as so many of twenty, drawn as a bar. */
function Part(props: { readonly words: string; readonly share: number }) {
  const ofTwenty = props.share * 20;
  const words = ofTwenty > 0 && ofTwenty < 0.1 ? 'under 0.1' : Number(ofTwenty.toFixed(1));
  return (
    <li>
      <b>{words} of 20</b> {props.words}
      <span className="bar" aria-hidden="true">
        <span style={{ width: `${Math.min(100, props.share * 100)}%` }} />
      </span>
    </li>
  );
}

/** The figures of a ranking, unrounded. */
export function TakePairs(props: {
  readonly file: string;
  readonly trait: string;
  readonly pairs: readonly WeighedPair[];
}) {
  return (
    <TakeAlong
      file={props.file}
      of="the pairs in this order"
      columns={[
        ...['father', 'mother', 'sought', 'young expected', 'eggs', 'fertile', 'hatch'],
        ...[
          'left by inbreeding',
          'of the sought kind',
          'F of young',
          'no parents recorded of',
          'reason',
        ],
      ]}
      rows={() =>
        props.pairs.map(({ sire, dam, value, parts, F, unknownBehind, reason }) => [
          ...[sire.code, dam.code, props.trait, value, parts.eggs, parts.fertility, parts.hatch],
          ...[parts.inbreedingSurvival, parts.target, F],
          unknownBehind.map(({ code }) => code).join(' '),
          reason,
        ])
      }
    />
  );
}

/** Ways on from a pair: its odds, and beside another pair. */
export function PairActs(props: {
  readonly programId: string;
  readonly pair: WeighedPair;
  readonly beside: WeighedPair | null;
}) {
  const { programId, pair, beside } = props;
  const { sire, dam } = pair;
  return (
    <p className="pair-acts">
      <Link to={addresses.odds(programId, sire.code, dam.code)}>
        What their eggs can be
        <span className="vh">
          : {sire.code} with {dam.code}
        </span>
      </Link>
      {beside && (
        <Link
          to={addresses.beside(
            programId,
            [sire.code, dam.code],
            [beside.sire.code, beside.dam.code],
          )}
        >
          Beside {beside.sire.code} with {beside.dam.code}
          <span className="vh">
            : {sire.code} with {dam.code}
          </span>
        </Link>
      )}
    </p>
  );
}

/** Pairs that were weighed and set apart, as a table: what they would give and what speaks against them. */
export function SetApart(props: {
  readonly programId: string;
  readonly pairs: readonly WeighedPair[];
  readonly trait: string;
}) {
  return (
    <WideTable label="Pairs over your limit of F">
      <table>
        <caption>Over your limit of F</caption>
        <thead>
          <tr>
            <th scope="col">Pair</th>
            <th scope="col" className="num">
              {props.trait}
            </th>
            <th scope="col" className="num">
              F
            </th>
            <th scope="col">Against the first</th>
          </tr>
        </thead>
        <tbody>
          {props.pairs.map((pair) => (
            <tr key={`${pair.sire.id} ${pair.dam.id}`}>
              <th scope="row">
                <Link to={addresses.odds(props.programId, pair.sire.code, pair.dam.code)}>
                  {pair.sire.code} with {pair.dam.code}
                </Link>
              </th>
              <td className="num">{Number((pair.parts.target * 20).toFixed(1))} of 20</td>
              <td className="num">{inbreedingWords(pair.F)}</td>
              <td>{pair.reason}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </WideTable>
  );
}
