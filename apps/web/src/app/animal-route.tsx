import { AnimalPage } from '../features/animals/animal-page.js';
import { AnimalRecords } from '../features/records/animal-records.js';

/** An animal's page, with what is written about it. */
export function Component() {
  return <AnimalPage records={(animal) => <AnimalRecords animal={animal} />} />;
}
