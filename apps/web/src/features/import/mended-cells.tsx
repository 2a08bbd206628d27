import { useState } from 'react';
import { useClient } from 'urql';
import { FaultNote } from '../../components/fault-note.js';
import { type ApiFault, apiFaults } from '../../lib/api-fault.js';
import { useProgram } from '../../lib/program-context.js';
import { type Correction, MendedFile, type Reading } from './import-documents.js';

/** What is read otherwise than it stands in the file, each to be taken back, and the file with all of it. */
export function MendedCells(props: {
  readonly uploadId: string;
  readonly reading: Reading;
  readonly corrections: readonly Correction[];
  readonly working: boolean;
  readonly onCorrections: (corrections: readonly Correction[]) => void;
}) {
  const program = useProgram();
  const client = useClient();
  const [faults, setFaults] = useState<readonly ApiFault[]>([]);
  const { uploadId, reading, corrections } = props;
  const take = async () => {
    const input = { uploadId, map: reading, corrections: [...corrections] };
    const { data, error } = await client
      .query(MendedFile, { programId: program.id, input }, { requestPolicy: 'network-only' })
      .toPromise();
    setFaults(error ? apiFaults(error) : []);
    if (!data) return;
    const address = URL.createObjectURL(
      new Blob([data.mendedFile], { type: 'text/csv;charset=utf-8' }),
    );
    const link = document.createElement('a');
    link.href = address;
    link.download = 'mended.csv';
    link.click();
    URL.revokeObjectURL(address);
  };
  return (
    <>
      <ul className="mended-cells">
        {corrections.map((each, i) => (
          <li key={`${each.line} ${each.column} ${each.from}`}>
            <span>
              line <b>{each.line}</b> {each.column}: {each.from ? <q>{each.from}</q> : 'nothing'} is
              read as {each.to ? <q>{each.to}</q> : 'nothing'}
            </span>
            <button
              type="button"
              className="act line"
              disabled={props.working}
              onClick={() => props.onCorrections(corrections.filter((_, k) => k !== i))}
            >
              Take back
              <span className="vh">
                {' '}
                the change in line {each.line}, {each.column}
              </span>
            </button>
          </li>
        ))}
      </ul>
      <FaultNote faults={faults} />
      <p>
        <button type="button" className="act quiet" onClick={take}>
          Take the mended file
        </button>
      </p>
    </>
  );
}
