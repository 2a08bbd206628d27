import { useState } from 'react';
import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { RunningWork } from '../../components/running-work.js';
import { TakeSpreadsheet } from '../../components/take-spreadsheet.js';
import { addresses } from '../../lib/addresses.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { FileSentence } from './file-sentence.js';
import type { Correction, FileLook, ImportAnswer, Reading } from './import-documents.js';
import { LookAtFile } from './look-at-file.js';
import { sendFile } from './send-file.js';
import { useImport } from './use-import.js';
import './import.css';

/** A file that was sent, and what looking at it told. */
interface Looked {
  readonly name: string;
  readonly bytes: number;
  readonly uploadId: string;
  readonly reading: Reading;
  readonly answers: readonly ImportAnswer[];
  readonly corrections: readonly Correction[];
  readonly look: FileLook;
}

/** A spreadsheet comes in: looked at first, written whole or not at all, undone in one step. */
export function ImportPage() {
  const program = useProgram();
  const tellDone = useTellDone();
  const { run, progress, stop } = useImport();
  const [looked, setLooked] = useState<Looked | null>(null);
  const [done, setDone] = useState<FileLook | null>(null);
  const [work, setWork] = useState<string | null>(null);
  const [faults, setFaults] = useState<readonly ApiFault[]>([]);

  const ask = async (file: Omit<Looked, 'look'>) => {
    setWork(`Looking at every row of ${file.name}. Nothing is written.`);
    const outcome = await run(file.bytes, (commandId) => ({
      programId: program.id,
      input: {
        commandId,
        uploadId: file.uploadId,
        isDryRun: true,
        map: file.reading,
        answers: [...file.answers],
        corrections: [...file.corrections],
      },
    }));
    setWork(null);
    if (!outcome) return tellDone({ sentence: `${file.name} was not looked at to its end.` });
    setFaults(outcome.done ? [] : outcome.faults);
    if (outcome.done) setLooked({ ...file, look: outcome.data });
  };
  const choose = async (file: File) => {
    setDone(null);
    setLooked(null);
    setFaults([]);
    setWork(`Sending ${file.name}.`);
    const sent = await sendFile(program.id, file);
    if ('uploadId' in sent) {
      const { name, size: bytes } = file;
      return ask({
        name,
        bytes,
        uploadId: sent.uploadId,
        reading: {},
        answers: [],
        corrections: [],
      });
    }
    setWork(null);
    setFaults(sent.faults);
  };
  const write = async (species: string, trust: number) => {
    if (!looked) return;
    const { name, bytes, uploadId, reading, answers, corrections, look } = looked;
    setWork(`Writing ${look.created + look.changed} animals, all or none.`);
    const outcome = await run(bytes, (commandId) => ({
      programId: program.id,
      input: {
        commandId,
        uploadId,
        isDryRun: false,
        answers: [...answers],
        corrections: [...corrections],
        trust,
        species: species || null,
        map: reading,
      },
    }));
    setWork(null);
    if (!outcome) return tellDone({ sentence: 'Stopped: nothing was written.' });
    setFaults(outcome.done ? [] : outcome.faults);
    if (!outcome.done) return;
    const written = outcome.data;
    setLooked(null);
    setDone(written);
    tellDone({
      sentence: written.commandId ? `${name} is brought in.` : `${name} held nothing new.`,
      commandId: written.commandId ?? undefined,
    });
  };

  return (
    <>
      <Opening
        title={looked ? `Bring in ${looked.name}` : 'Bring in a spreadsheet'}
        trail={<Link to={addresses.program(program.id)}>Program</Link>}
        sentence={<FileSentence look={looked?.look ?? null} done={done} />}
        acts={
          done && (
            <>
              <Link className="act" to={addresses.animals(program.id)}>
                See the animals
              </Link>
              <Link className="act quiet" to={addresses.history(program.id)}>
                Undo it in the history
              </Link>
            </>
          )
        }
      />
      <FaultNote faults={faults} />
      {work && (
        <RunningWork
          share={progress?.share ?? null}
          words={progress ? `${work} ${progress.isStopping ? 'Stopping' : progress.words}.` : work}
          onStop={progress && !progress.isStopping ? stop : undefined}
        />
      )}
      {program.mayWrite ? (
        <>
          {looked && (
            <LookAtFile
              key={looked.uploadId}
              uploadId={looked.uploadId}
              look={looked.look}
              reading={looked.reading}
              answers={looked.answers}
              corrections={looked.corrections}
              working={work !== null}
              onReading={(change) => ask({ ...looked, reading: { ...looked.reading, ...change } })}
              onAnswers={(answers) => ask({ ...looked, answers })}
              onCorrections={(corrections) => ask({ ...looked, corrections })}
              onWrite={write}
            />
          )}
          <Band
            title={looked ? 'Another file' : 'Your file'}
            note="From any spreadsheet: save it as CSV. Your own headings are fine."
          >
            <ChooseFile onChoose={choose} />
          </Band>
        </>
      ) : (
        <p>You read this program; a keeper or an owner can bring a file in.</p>
      )}
      <Band title="Out again" note="Nothing is locked in.">
        <TakeSpreadsheet programId={program.id} />
      </Band>
    </>
  );
}

function ChooseFile({ onChoose }: { readonly onChoose: (file: File) => void }) {
  return (
    <div className="choose-file">
      <label htmlFor="file">
        One row an animal, one column at least: its code. What else is there is offered back to you
        as it was understood.
      </label>
      <input
        id="file"
        type="file"
        accept=".csv,.tsv,.txt,text/csv"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) onChoose(file);
          // So that the same file, mended, can be chosen again.
          event.target.value = '';
        }}
      />
    </div>
  );
}
