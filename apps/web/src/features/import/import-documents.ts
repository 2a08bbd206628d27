import { graphql, type ResultOf, type VariablesOf } from '../../lib/graphql.js';

/** Looks at an uploaded file (`isDryRun`) or writes it, with the same answer. */
export const ImportProgramFile = graphql(`
  mutation ImportProgramFile($programId: ID!, $input: ImportProgramFileInput!) {
    importProgramFile(programId: $programId, input: $input) {
      commandId
      rows
      created
      changed
      leftAlone
      createdCodes
      isBlocked
      faultCount
      guesses
      map {
        dateOrder
        decimalSign
        encoding
        separator
        columns {
          heading
          field
          unit
        }
      }
      questions {
        kind
        name
        animals
        firstLine
        nearest
        proposal
      }
      faults {
        line
        column
        code
        isFatal
        message
        remedy
        value
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
  }
`);

/** What a file says and would do. */
export type FileLook = ResultOf<typeof ImportProgramFile>['importProgramFile'];
export type FileFault = FileLook['faults'][number];
export type ImportQuestion = FileLook['questions'][number];

/** How the reader wants the file read, where the proposal is wrong. */
export type Reading = NonNullable<VariablesOf<typeof ImportProgramFile>['input']['map']>;
