export {
  buildPedigree,
  type Candidate,
  type PedigreeOptions,
  type PedigreeRow,
} from './build-pedigree.js';
export { type Completeness, completeness } from './completeness.js';
export { inbreeding } from './inbreeding.js';
export { EACH_OWN_SIRE, MIXED, ONE_SIRE, type Paternity, TWO_SIRES } from './paternity.js';
export { type AnimalKey, type Draw, idOf, type Pedigree, positionOf } from './pedigree.js';
export { pedigreeFromColumns } from './pedigree-from-columns.js';
export { relatedness } from './relatedness.js';
