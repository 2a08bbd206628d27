import { Band } from '../../components/band.js';
import { Caution } from '../../components/caution.js';
import { FaultNote } from '../../components/fault-note.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import {
  type Correction,
  type ImportAnswer,
  ImportContradictions,
  type Reading,
} from './import-documents.js';

/** Whether looks, parents and what was told could all be true once the file is in. No fault: it may be written all the same. */
export function FitsTogether(props: {
  readonly uploadId: string;
  readonly reading: Reading;
  readonly answers: readonly ImportAnswer[];
  readonly corrections: readonly Correction[];
  /** Of the genes told in the file, the share taken to be right. */
  readonly trust: number;
}) {
  const program = useProgram();
  const { data, waiting, faults } = useRead(ImportContradictions, {
    programId: program.id,
    input: {
      uploadId: props.uploadId,
      map: props.reading,
      answers: [...props.answers],
      corrections: [...props.corrections],
      trust: props.trust,
    },
  });
  const found = data?.importContradictions;
  return (
    <Band
      title="Does it fit together"
      note="Looks, parents and what was told, as they would be. It does not stand in the way."
    >
      <FaultNote faults={faults} />
      <div role="status">
        {!found && waiting && <p className="soft">Looking whether all of it can be true.</p>}
        {found?.contradictions.length === 0 && (
          <p>
            {found.isComplete
              ? 'Nothing in it speaks against the rest.'
              : `Before writing, this is looked at up to ${found.mostAnimals} animals; with it there would be ${found.animals}. Once they are in, see who carries what.`}
          </p>
        )}
      </div>
      {found?.contradictions.map((one) => (
        <Caution
          key={one.records.join()}
          kind="unknown"
          lead={`${one.codes.join(', ')}: cannot all be true.`}
        >
          {one.records.map((record) => `${record}.`).join(' ')}
        </Caution>
      ))}
      {found && found.contradictions.length > 0 && (
        <>
          <p className="small soft">
            Usually behind it: {found.explanations.map(lowerFirst).join('; ')}.
          </p>
          {!found.isComplete && <p className="small soft">There may be more.</p>}
        </>
      )}
    </Band>
  );
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);
