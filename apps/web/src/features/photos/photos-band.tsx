import { useState } from 'react';
import { Band } from '../../components/band.js';
import { FaultNote } from '../../components/fault-note.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { AddPhotoForm } from './add-photo-form.js';
import { type Photo, PhotosQuery, RemovePhoto } from './photo-documents.js';
import './photos.css';

/** Pictures of an animal: what it looked like when, and who it is when marks are gone. */
export function PhotosBand({
  animal,
}: {
  readonly animal: { readonly id: string; readonly code: string };
}) {
  const program = useProgram();
  const tellDone = useTellDone();
  const { data, faults, again } = useRead(PhotosQuery, {
    programId: program.id,
    animalId: animal.id,
  });
  const { run, running } = useAct(RemovePhoto);
  const [refused, setRefused] = useState<readonly ApiFault[]>([]);
  const remove = async (photoId: string) => {
    const outcome = await run((commandId) => ({
      programId: program.id,
      input: { commandId, photoId },
    }));
    setRefused(outcome.done ? [] : outcome.faults);
    if (!outcome.done) return;
    const { id, sentence } = outcome.data.removePhoto.command;
    tellDone({ sentence: `${sentence}.`, commandId: id });
  };
  const photos = data?.photos.photos ?? [];
  return (
    <Band title="Photos" note="Shell and face tell one from another when a mark is lost.">
      <FaultNote faults={faults} again={again} />
      <FaultNote faults={refused} />
      {data && photos.length === 0 && <p>No photo yet.</p>}
      {photos.length > 0 && (
        <ul className="photos">
          {photos.map((photo) => (
            <li key={photo.id}>
              <figure>
                <a href={addressOf(program.id, photo.id)}>
                  <img
                    src={addressOf(program.id, photo.id)}
                    alt={altOf(animal.code, photo)}
                    loading="lazy"
                  />
                </a>
                <figcaption>
                  <span>
                    {photo.date && <b>{partialDateWords({ text: photo.date })}</b>} {photo.caption}
                  </span>
                  {program.mayWrite && (
                    <button
                      type="button"
                      className="act line"
                      disabled={running}
                      onClick={() => remove(photo.id)}
                    >
                      Take away<span className="vh"> {altOf(animal.code, photo)}</span>
                    </button>
                  )}
                </figcaption>
              </figure>
            </li>
          ))}
        </ul>
      )}
      {program.mayWrite && data && (
        <AddPhotoForm
          animal={animal}
          room={{ used: data.photos.usedBytes, most: data.photos.roomBytes }}
        />
      )}
    </Band>
  );
}

const addressOf = (programId: string, photoId: string): string =>
  `/files/${programId}/photos/${photoId}`;

function altOf(code: string, { date, caption }: Photo): string {
  return [code, date && partialDateWords({ text: date }), caption].filter(Boolean).join(', ');
}
