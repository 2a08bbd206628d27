import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Scute } from '../../components/scute.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { weekdayWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useAskAgain } from '../../lib/use-ask-again.js';
import { useRead } from '../../lib/use-read.js';
import { type Severity, TodayQuery } from './today-documents.js';
import './today.css';

/** The few things that want a decision, in the order in which waiting costs most. */
export function TodayPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(TodayQuery, { programId: program.id });
  const today = data?.today;
  useAskAgain(today, today?.areGenesPending, again);
  return (
    <>
      <Opening
        title="Today"
        heading={weekdayWords(new Date())}
        sentence={today && <Said text={today.sentence} />}
      />
      <FaultNote faults={faults} again={again} />
      {!today && faults.length === 0 && <Skeleton lines={12} what="what wants a decision" />}
      {today && (
        <>
          <Band title="To decide" note="In the order in which waiting costs most.">
            {today.decisions.length === 0 ? (
              <EmptyState title="Nothing presses">
                <p>
                  By what is recorded.{' '}
                  <Link to={addresses.animals(program.id)}>See the animals</Link>
                </p>
              </EmptyState>
            ) : (
              <ol className="matters">
                {today.decisions.map((matter) => (
                  <li key={matter.title + matter.sentence}>
                    <SeverityMark severity={matter.severity} />
                    <div>
                      <h3>
                        <Link to={`/programs/${program.id}${matter.link}`}>
                          <Said text={matter.title} />
                        </Link>
                      </h3>
                      <p>{matter.sentence}</p>
                    </div>
                  </li>
                ))}
              </ol>
            )}
          </Band>
          {today.areGenesPending && (
            <p className="small" role="status">
              What the colour records say is still being worked out.
            </p>
          )}
          {today.unknown.length > 0 && (
            <Band title="Not known" note="Each of these widens some answer.">
              <ul className="unknowns">
                {today.unknown.map((line) => (
                  <li key={line}>
                    <Scute share={null} />
                    <span>
                      <Said text={line} />
                    </span>
                  </li>
                ))}
              </ul>
            </Band>
          )}
        </>
      )}
    </>
  );
}

function SeverityMark({ severity }: { readonly severity: Severity }) {
  const words = { DANGER: 'Danger', WARNING: 'Warning', NOTE: 'To keep in mind' }[severity];
  return (
    <span className={`severity ${severity.toLowerCase()}`}>
      <svg viewBox="-16 -16 32 32" aria-hidden="true">
        <path className="plate" d="M0-14.5 12.56-7.25V7.25L0 14.5-12.56 7.25V-7.25Z" />
        <path className="mark" d={severity === 'NOTE' ? 'M-6 0H6' : 'M0-8V2.5M0 5.6V9.2'} />
      </svg>
      <span className="small">{words}</span>
    </span>
  );
}
