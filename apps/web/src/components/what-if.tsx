import { namedAnimal } from '../lib/answer-fragments.js';
import { chanceWords, inbreedingWords } from '../lib/chance-words.js';
import { useTellDone } from '../lib/done-context.js';
import { graphql, type ResultOf, type VariablesOf } from '../lib/graphql.js';
import { useProgram } from '../lib/program-context.js';
import { useAct } from '../lib/use-act.js';
import { useRead } from '../lib/use-read.js';
import { AnimalLink } from './animal-link.js';
import { FaultNote } from './fault-note.js';
import { Said } from './said.js';
import { Skeleton } from './skeleton.js';
import { TakeAlong } from './take-along.js';
import './what-if.css';

const WhatIfQuery = graphql(
  `
    query WhatIf($programId: ID!, $input: SuppositionInput!) {
      whatIf(programId: $programId, input: $input) {
        supposed
        sentence
        changed
        contradictionsNow
        contradictionsThen
        mayBeWritten
        animals {
          animal {
            ...NamedAnimal
          }
          inbreedingNow
          inbreedingThen
          fathers {
            now
            supposed
            animal {
              ...NamedAnimal
            }
          }
          genes {
            labelNow
            labelThen
            carriesNow
            carriesThen
            locus {
              id
              name
            }
          }
        }
      }
    }
  `,
  [namedAnimal],
);

const AcceptSupposition = graphql(`
  mutation AcceptSupposition($programId: ID!, $input: AcceptSuppositionInput!) {
    acceptSupposition(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);

export type Supposition = VariablesOf<typeof WhatIfQuery>['input'];
type Shift = ResultOf<typeof WhatIfQuery>['whatIf']['animals'][number];

/** One line of the comparison: what, now, and as it would be. */
interface Line {
  readonly key: string;
  readonly animal: Shift['animal'];
  readonly what: string;
  readonly now: string;
  readonly then: string;
  /** Lines of the animal, on its first one; else 0. */
  readonly span: number;
}

/** What would follow if something were so, beside what is now. Nothing is written until somebody says so. */
export function WhatIf(props: {
  readonly supposition: Supposition;
  /** What the act does, on its button. */
  readonly act: string;
  readonly onClose: () => void;
}) {
  const program = useProgram();
  const tellDone = useTellDone();
  const { data, faults, again } = useRead(WhatIfQuery, {
    programId: program.id,
    input: props.supposition,
  });
  const accept = useAct(AcceptSupposition);
  const answer = data?.whatIf;
  const write = async () => {
    const outcome = await accept.run((commandId) => ({
      programId: program.id,
      input: { commandId, supposition: props.supposition },
    }));
    if (!outcome.done) {
      return tellDone({ sentence: outcome.faults.map(({ message }) => message).join(' ') });
    }
    const { id, sentence } = outcome.data.acceptSupposition.command;
    tellDone({ sentence: `Written: ${sentence}.`, commandId: id });
    props.onClose();
  };
  const lines = answer?.animals.flatMap(linesOf) ?? [];
  return (
    <section className="what-if" aria-label="What would follow" aria-live="polite">
      <FaultNote faults={faults} again={again} />
      {!answer && faults.length === 0 && <Skeleton lines={5} what="what would follow" />}
      {answer && (
        <>
          <p className="supposed">
            <span className="small">Supposed, nothing is written</span>
            <b>{answer.supposed}</b>
          </p>
          <p className="lead">
            <Said text={answer.sentence} />
          </p>
          {lines.length > 0 && (
            <>
              <div className="scroll">
                <table>
                  <caption>
                    Now and as it would be
                    {answer.changed > answer.animals.length &&
                      `; the ${answer.animals.length} of ${answer.changed} animals that change most`}
                  </caption>
                  <thead>
                    <tr>
                      <th scope="col">Animal</th>
                      <th scope="col">What</th>
                      <th scope="col">Now</th>
                      <th scope="col">Then</th>
                    </tr>
                  </thead>
                  <tbody>
                    {lines.map((line) => (
                      <tr key={line.key}>
                        {line.span > 0 && (
                          <th scope="rowgroup" rowSpan={line.span}>
                            <AnimalLink programId={program.id} animal={line.animal} />
                          </th>
                        )}
                        <td>{line.what}</td>
                        <td>{line.now}</td>
                        <td>
                          <b>{line.then}</b>
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </div>
              <TakeAlong
                file="what-if"
                of="what would follow"
                columns={['animal', 'what', 'now', 'then']}
                rows={() =>
                  lines.map(({ animal, what, now, then }) => [animal.code, what, now, then])
                }
              />
            </>
          )}
          <div className="acts">
            {program.mayWrite && answer.mayBeWritten && (
              <button
                type="button"
                className="act"
                aria-disabled={accept.running}
                onClick={() => !accept.running && write()}
              >
                {props.act}
              </button>
            )}
            <button type="button" className="act quiet" onClick={props.onClose}>
              Leave it as it is
            </button>
          </div>
          {!answer.mayBeWritten && (
            <p className="small">
              Its clutch mates may have other fathers, or its fathers follow from who was where, so
              this is only looked at. To write it, change what is written of the animal or its
              clutch.
            </p>
          )}
        </>
      )}
    </section>
  );
}

function linesOf(shift: Shift): Line[] {
  const { animal } = shift;
  const line = (what: string, now: string, then: string): Line => ({
    key: `${animal.id} ${what}`,
    animal,
    what,
    now,
    then,
    span: 0,
  });
  const lines: Line[] = [];
  if (Math.abs(shift.inbreedingNow - shift.inbreedingThen) > 1e-9) {
    lines.push(
      line('F', inbreedingWords(shift.inbreedingNow), inbreedingWords(shift.inbreedingThen)),
    );
  }
  for (const father of shift.fathers) {
    const who = father.animal ? father.animal.code : 'a male nobody recorded';
    lines.push(line(`father: ${who}`, chanceWords(father.now), chanceWords(father.supposed)));
  }
  for (const gene of shift.genes) {
    const words = (label: string, carries: number) =>
      /possible|not known/.test(label) ? `${label}, ${chanceWords(carries)}` : label;
    lines.push(
      line(
        gene.locus.name,
        words(gene.labelNow, gene.carriesNow),
        words(gene.labelThen, gene.carriesThen),
      ),
    );
  }
  return lines.map((one, k) => ({ ...one, span: k === 0 ? lines.length : 0 }));
}
