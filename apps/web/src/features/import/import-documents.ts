import { graphql, type ResultOf, type VariablesOf } from '../../lib/graphql.js';

const FileLookFields = graphql(`
  fragment FileLookFields on ImportPayload @_unmask {
    commandId
    rows
    created
    changed
    leftAlone
    createdCodes
    isBlocked
    faultCount
    guesses
    guardedCells
    known {
      traits
      loci
      pens
      species
    }
    map {
      format
      affectedTrait
      isGuarded
      twoDigitYearsFrom
      words {
        female
        male
        unknown
        none
      }
      dateOrder
      decimalSign
      encoding
      separator
      columns {
        heading
        field
        unit
        example
      }
    }
    questions {
      kind
      name
      animals
      firstLine
      nearest
      proposal
      mode
    }
    answered {
      kind
      name
      animals
      firstLine
      nearest
      proposal
      mode
    }
    faults {
      line
      column
      code
      isFatal
      message
      remedy
      value
      nearest
    }
    changes {
      code
      field
      before
      after
    }
    program {
      id
      revision
      animalCount
    }
  }
`);

/** Looks at an uploaded file (`isDryRun`) or writes it, with the same answer. */
export const ImportProgramFile = graphql(
  `
    mutation ImportProgramFile($programId: ID!, $input: ImportProgramFileInput!) {
      importProgramFile(programId: $programId, input: $input) {
        ...FileLookFields
      }
    }
  `,
  [FileLookFields],
);

/** The same for a large file, as work that is followed. */
export const StartImport = graphql(`
  mutation StartImport($programId: ID!, $input: ImportProgramFileInput!) {
    startImport(programId: $programId, input: $input) {
      id
    }
  }
`);

export const ImportOfJob = graphql(
  `
    query ImportOfJob($jobId: ID!) {
      job(jobId: $jobId) {
        id
        import {
          ...FileLookFields
        }
      }
    }
  `,
  [FileLookFields],
);

/** What a file says and would do. */
export type FileLook = ResultOf<typeof ImportProgramFile>['importProgramFile'];
export type FileFault = FileLook['faults'][number];
export type ImportQuestion = FileLook['questions'][number];

/** What could not all be true once the file is in. */
export const ImportContradictions = graphql(`
  query ImportContradictions($programId: ID!, $input: LookAtImportInput!) {
    importContradictions(programId: $programId, input: $input) {
      isComplete
      animals
      mostAnimals
      explanations
      contradictions {
        records
        codes
      }
    }
  }
`);

/** What is to be done with a name that the program does not know. */
export type ImportAnswer = NonNullable<
  VariablesOf<typeof ImportProgramFile>['input']['answers']
>[number];

/** What is read in a cell in place of what stands there. */
export type Correction = NonNullable<
  VariablesOf<typeof ImportProgramFile>['input']['corrections']
>[number];

/** The file with the corrections in it. */
export const MendedFile = graphql(`
  query MendedFile($programId: ID!, $input: LookAtImportInput!) {
    mendedFile(programId: $programId, input: $input)
  }
`);

/** How the reader wants the file read, where the proposal is wrong. */
export type Reading = NonNullable<VariablesOf<typeof ImportProgramFile>['input']['map']>;
