import { useId, useState } from 'react';
import { FaultNote } from '../../components/fault-note.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { sendBytes } from '../../lib/send-bytes.js';
import { pictureAddress, shrinkPicture, UNREADABLE } from '../../lib/shrink-picture.js';
import { type TypedDate, typedDateText } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import { AddPhoto } from './photo-documents.js';

interface Chosen {
  readonly file: File;
  readonly address: string;
  readonly date: TypedDate;
  readonly caption: string;
}

const MB = 2 ** 20;

/** A picture is chosen, or taken on a phone, looked at and kept. */
export function AddPhotoForm(props: {
  readonly animal: { readonly id: string; readonly code: string };
  readonly room: { readonly used: number; readonly most: number };
}) {
  const program = useProgram();
  const tellDone = useTellDone();
  const id = useId();
  const { run } = useAct(AddPhoto);
  const [chosen, setChosen] = useState<Chosen | null>(null);
  const [working, setWorking] = useState(false);
  const [faults, setFaults] = useState<readonly ApiFault[]>([]);
  const { animal, room } = props;

  const choose = async (picked: File) => {
    setWorking(true);
    const file = await shrinkPicture(picked);
    setWorking(false);
    setChosen(null);
    setFaults(file ? [] : [UNREADABLE]);
    if (!file) return;
    const taken = new Date(file.lastModified);
    const two = (n: number) => String(n).padStart(2, '0');
    const date = {
      year: String(taken.getFullYear()),
      month: two(taken.getMonth() + 1),
      day: two(taken.getDate()),
      about: false,
    };
    setChosen({ file, address: await pictureAddress(file), date, caption: '' });
  };
  const keep = async ({ file, date, caption }: Chosen) => {
    setWorking(true);
    const sent = await sendBytes(
      `/files/${program.id}?name=${encodeURIComponent(file.name)}`,
      file,
    );
    if ('faults' in sent) {
      setWorking(false);
      return setFaults(sent.faults);
    }
    const outcome = await run((commandId) => ({
      programId: program.id,
      input: {
        commandId,
        uploadId: sent.uploadId,
        animalId: animal.id,
        date: typedDateText(date) || null,
        caption: caption.trim() || null,
      },
    }));
    setWorking(false);
    setFaults(outcome.done ? [] : outcome.faults);
    if (!outcome.done) return;
    setChosen(null);
    const { command } = outcome.data.addPhoto;
    tellDone({ sentence: `${command.sentence}.`, commandId: command.id });
  };

  return (
    <div className="add-photo">
      <FaultNote faults={faults} />
      <div className="choose-photo">
        <label htmlFor={id}>{chosen ? 'Another picture instead' : 'Take or choose a photo'}</label>
        <p className="small soft">
          It is made smaller here, and place and camera are taken out. All photos of the program
          take {(room.used / MB).toFixed(0)} of {(room.most / MB).toFixed(0)} MB.
        </p>
        <input
          id={id}
          type="file"
          accept="image/*"
          disabled={working}
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) choose(file);
            // So that the same picture can be chosen again.
            event.target.value = '';
          }}
        />
      </div>
      {chosen && (
        <div className="chosen-photo">
          <img src={chosen.address} alt={`${animal.code}, not kept yet`} />
          <div>
            <PartialDateField
              id={`${id}-date`}
              label="Taken"
              hint="The day of the file; change it where that is wrong."
              value={chosen.date}
              onChange={(date) => setChosen({ ...chosen, date })}
            />
            <Field
              id={`${id}-caption`}
              label="What is to be seen"
              hint="Left side, plastron, a notch in the third marginal."
              maxLength={300}
              autoComplete="off"
              value={chosen.caption}
              onChange={(caption) => setChosen({ ...chosen, caption })}
            />
            <div className="acts">
              <button type="button" className="act" disabled={working} onClick={() => keep(chosen)}>
                Keep this photo
              </button>
              <button
                type="button"
                className="act line"
                disabled={working}
                onClick={() => setChosen(null)}
              >
                Not this one
              </button>
            </div>
          </div>
        </div>
      )}
    </div>
  );
}
