// The door of this folder: what the service, the console, the demo and the tests use of program files.
export { answerQuestion, answerRows, type ImportAnswer } from './answer-questions.js';
export { type ImportQuestion, MOST_QUESTIONS } from './ask-definitions.js';
export {
  type CheckOptions,
  checkProgramFile,
  type ProgramFileCheck,
} from './check-program-file.js';
export type { ColumnMap, MappedColumn, SpecialWords } from './column-map.js';
export { EncodingGuess } from './decode-text.js';
export { type FileFault, FileFaults, MOST_LISTED } from './file-fault.js';
export type { InheritanceMode, TraitProposal } from './guess-inheritance.js';
export { EMPTY_PROGRAM, type KnownClutch, type KnownProgram } from './known-program.js';
export type { Correction } from './mend-cells.js';
export { mendFile } from './mend-file.js';
export type { ChangedAnimal, FieldChange, FieldCount, ImportPlan } from './plan-import.js';
export {
  absentTraits,
  type DeclaredGenotype,
  FIELDS,
  type Field,
  type FileRow,
  MOST_ROWS,
  type NamedParent,
  type ProgramRow,
} from './program-row.js';
export {
  MOST_BYTES,
  type ProgramFile,
  ProgramFileReader,
  type ReadOptions,
  readProgramFile,
} from './read-program-file.js';
export { type WriteOptions, writeProgramFile } from './write-program-file.js';
