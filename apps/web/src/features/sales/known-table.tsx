import type { CSSProperties } from 'react';
import { roleWords, SaleCode } from './kin-matrix.js';
import type { SaleAnimal } from './sale-documents.js';
import '../../components/completeness-bars.css';

const FOREBEARS = 14;

/** Of each animal's fourteen nearest forebears (parents to great-grandparents), how many are recorded; the rest hatched. */
export function KnownTable(props: {
  readonly programId: string;
  readonly animals: readonly SaleAnimal[];
}) {
  return (
    <table className="completeness known">
      <thead>
        <tr>
          <th scope="col">Animal</th>
          <th scope="col">Recorded of {FOREBEARS} forebears</th>
          <th scope="col" className="num">
            recorded
          </th>
        </tr>
      </thead>
      <tbody>
        {props.animals.map((animal) => {
          const recorded = animal.known.reduce((sum, share, k) => sum + share * 2 ** (k + 1), 0);
          return (
            <tr key={animal.id}>
              <th scope="row">
                <SaleCode programId={props.programId} animal={animal} />
                <span className="small soft block">{roleWords(animal)}</span>
              </th>
              <td>
                <span
                  className="hatched-bar"
                  style={{ '--share': `${(recorded / FOREBEARS) * 100}%` } as CSSProperties}
                />
              </td>
              <td className="num">{recordedWords(recorded)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function recordedWords(recorded: number): string {
  if (recorded === 0) return 'none';
  if (recorded === FOREBEARS) return 'all';
  return `${Number(recorded.toFixed(1))} of ${FOREBEARS}`;
}
