import { AnimalLink } from '../../components/animal-link.js';
import { CandidateLines } from '../../components/candidate-lines.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { LineageAnswer } from './lineage-documents.js';

const BASIS_WORDS: Record<string, string> = {
  OBSERVED: 'seen',
  HOUSED_TOGETHER: 'kept together',
  TESTED: 'test of parentage',
  DECLARED: 'written down as told',
  ASSUMED: 'assumed',
  BY_HAND: 'set by hand',
};

/** The possible fathers: what who-was-where says, and what all records together say. */
export function FatherTable(props: {
  readonly programId: string;
  readonly fathers: LineageAnswer['fathers'];
}) {
  const { programId, fathers } = props;
  const moved = fathers.some(({ before, after }) => Math.abs(before - after) >= 0.005);
  return (
    <>
      <CandidateLines
        lines={fathers.map(({ animal, after }) => ({
          key: animal?.id ?? 'nobody',
          who: animal ? (
            <AnimalLink programId={programId} animal={animal} />
          ) : (
            'a male nobody recorded'
          ),
          probability: after,
          unrecorded: animal === null,
        }))}
      />
      {moved ? (
        <table>
          <caption>How the colours of young and kin moved them</caption>
          <thead>
            <tr>
              <th scope="col">Possible father</th>
              <th scope="col">Rests on</th>
              <th scope="col" className="num">
                by that alone
              </th>
              <th scope="col" className="num">
                by all records
              </th>
            </tr>
          </thead>
          <tbody>
            {fathers.map(({ animal, before, after, basis }) => (
              <tr key={animal?.id ?? 'nobody'}>
                <th scope="row">{animal?.code ?? 'nobody recorded'}</th>
                <td>{BASIS_WORDS[basis] ?? basis}</td>
                <td className="num">{chanceWords(before)}</td>
                <td className="num">{chanceWords(after)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : (
        <p className="small soft">
          By who was where and what was written. The colours of its kin have not moved it; a DNA
          test of parentage would.
        </p>
      )}
    </>
  );
}
