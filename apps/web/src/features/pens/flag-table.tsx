import { TakeAlong } from '../../components/take-along.js';
import { WideTable } from '../../components/wide-table.js';
import { partialDateWords } from '../../lib/date-words.js';
import type { PenConflicts, PenFlag } from './pen-documents.js';
import { standsOn } from './yard-time.js';

const SEVERITY_WORDS = { DANGER: 'danger', WARNING: 'warning', NOTE: 'to keep in mind' };
const SHOWN = 60;

/** The plan as a list: what stands on the day shown. The file holds everything within ten years. */
export function FlagTable(props: { readonly answer: PenConflicts; readonly day: string }) {
  const { answer, day } = props;
  const standing = answer.flags.filter((flag) => standsOn(flag, day));
  const title = (flag: PenFlag) =>
    answer.rules.find(({ rule }) => rule === flag.rule)?.title ?? flag.rule;
  return (
    <>
      <WideTable label="What stands on that day">
        <table>
          <caption>
            {standing.length} on that day
            {standing.length > SHOWN && `, the ${SHOWN} most pressing shown`}
          </caption>
          <thead>
            <tr>
              <th scope="col">Pen</th>
              <th scope="col">What</th>
              <th scope="col">Who</th>
              <th scope="col">How</th>
              <th scope="col">From</th>
              <th scope="col">Surely</th>
            </tr>
          </thead>
          <tbody>
            {standing.slice(0, SHOWN).map((flag) => (
              <tr key={`${flag.rule} ${flag.message} ${flag.possibleFrom}`}>
                <th scope="row">{flag.pen.name}</th>
                <td>{title(flag)}</td>
                <td>{codes(flag)}</td>
                <td>{SEVERITY_WORDS[flag.severity]}</td>
                <td>{partialDateWords({ text: flag.possibleFrom.slice(0, 7) })}</td>
                <td>
                  {flag.certainFrom
                    ? partialDateWords({ text: flag.certainFrom.slice(0, 7) })
                    : 'not certain'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <TakeAlong
        file={`pens ${answer.day}`}
        of="what stands against each pen within ten years"
        columns={[
          'pen',
          'rule',
          'animals',
          'severity',
          'from',
          'surely from',
          'over on',
          'message',
          'remedy',
          'source',
        ]}
        rows={() =>
          answer.flags.map((flag) => [
            flag.pen.name,
            flag.rule,
            flag.animals.map(({ code }) => code).join(' '),
            flag.severity.toLowerCase(),
            flag.possibleFrom,
            flag.certainFrom ?? '',
            flag.overOn ?? '',
            flag.message,
            flag.remedy,
            flag.source,
          ])
        }
      />
    </>
  );
}

function codes({ animals }: PenFlag): string {
  const shown = animals
    .slice(0, 4)
    .map(({ code }) => code)
    .join(', ');
  return animals.length > 4 ? `${shown} and ${animals.length - 4} more` : shown;
}
