import { useEffect, useState } from 'react';
import { keepPicture, keptPicture } from '../../lib/phone-store.js';
import { pictureAddress, shrinkPicture } from '../../lib/shrink-picture.js';
import { named } from './act.js';
import type { RoundAnimal } from './round-documents.js';

/** Tiles shown at once; the next ones are a tap away, so that a phone does not fetch a whole yard. */
const FIRST = 12;
/** Pixels of the longer side of a tile's picture: enough to tell two animals apart by the shell. */
const TILE = 320;

/** Animals by their latest photo, for when no mark can be read. */
export function PhotoList(props: {
  readonly programId: string;
  readonly animals: readonly RoundAnimal[];
  readonly onOpen: (animal: RoundAnimal) => void;
}) {
  const [most, setMost] = useState(FIRST);
  const shown = props.animals.filter(({ photoId }) => photoId !== null);
  if (shown.length === 0)
    return <p className="soft">No animal has a photo yet: open one and tap Photo.</p>;
  return (
    <>
      <ul className="photo-list">
        {shown.slice(0, most).map((animal) => (
          <li key={animal.id}>
            <button type="button" onClick={() => props.onOpen(animal)}>
              <Tile programId={props.programId} animal={animal} />
              <b>{named(animal)}</b>
            </button>
          </li>
        ))}
      </ul>
      {shown.length > most && (
        <button type="button" className="act line" onClick={() => setMost(most + FIRST)}>
          {shown.length - most} more
        </button>
      )}
    </>
  );
}

function Tile({ programId, animal }: { programId: string; animal: RoundAnimal }) {
  const { photoId, code } = animal;
  /** Null: not here and not to be had now. */
  const [address, setAddress] = useState<string | null | undefined>();
  useEffect(() => {
    let isGone = false;
    pictureFor(programId, photoId ?? '')
      .catch(() => null)
      .then((found) => isGone || setAddress(found));
    return () => {
      isGone = true;
    };
  }, [programId, photoId]);
  if (address) return <img src={address} alt={`${code}, as it looked last`} />;
  return (
    <span className="no-picture">
      {address === null ? 'Seen here once with signal, it stays on the phone.' : ''}
    </span>
  );
}

/** From this phone, else from the computer: then a small copy of it stays here. */
async function pictureFor(programId: string, photoId: string): Promise<string | null> {
  const kept = await keptPicture(photoId);
  if (kept) return kept;
  const answer = await fetch(`/files/${programId}/photos/${photoId}`);
  if (!answer.ok) return null;
  const small = await shrinkPicture(new File([await answer.blob()], 'photo'), TILE);
  if (!small) return null;
  const address = await pictureAddress(small);
  await keepPicture(photoId, address);
  return address;
}
