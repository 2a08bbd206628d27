import { type ReactNode, useState } from 'react';
import type { FileFault } from './import-documents.js';

const SHOWN = 40;

/** Faults by line: where, what stands there, what is wrong, what to do. */
export function FaultList(props: {
  readonly faults: readonly FileFault[];
  /** What can be done about one of them, below its words. */
  readonly mend?: (fault: FileFault) => ReactNode;
}) {
  const { faults } = props;
  const [all, setAll] = useState(false);
  const shown = all ? faults : faults.slice(0, SHOWN);
  return (
    <>
      <ol className="file-faults">
        {shown.map((fault) => (
          <li key={`${fault.line} ${fault.column} ${fault.code} ${fault.value} ${fault.message}`}>
            <p className="at">
              {fault.line > 0 ? (
                <>
                  line <b>{fault.line}</b>
                </>
              ) : (
                'whole file'
              )}
              {fault.column && <span className="soft"> {fault.column}</span>}
            </p>
            <p className="stands">
              {fault.value ? (
                <>
                  <span className="vh">There stands </span>
                  <q>{fault.value}</q>
                </>
              ) : (
                <span className="soft">nothing there</span>
              )}
            </p>
            <div>
              <p className={fault.isFatal ? 'fault' : undefined}>{fault.message}</p>
              <p className="small">{fault.remedy}</p>
              {props.mend?.(fault)}
            </div>
          </li>
        ))}
      </ol>
      {shown.length < faults.length && (
        <p>
          <button type="button" className="act line" onClick={() => setAll(true)}>
            Show the other {faults.length - shown.length}
          </button>
        </p>
      )}
    </>
  );
}
