import { AnimalPage } from '../features/animals/animal-page.js';
import { PhotosBand } from '../features/photos/photos-band.js';
import { AnimalRecords } from '../features/records/animal-records.js';

/** An animal's page, with its pictures and what is written about it. */
export function Component() {
  return (
    <AnimalPage
      records={(animal) => (
        <>
          <PhotosBand animal={animal} />
          <AnimalRecords animal={animal} />
        </>
      )}
    />
  );
}
