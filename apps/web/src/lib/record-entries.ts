import { graphql, type ResultOf } from './graphql.js';

/** What happened in the yard, from whatever page it is told: each entry is answered by itself. */
export const RecordEntries = graphql(`
  mutation RecordEntries($programId: ID!, $input: RecordEntriesInput!) {
    recordEntries(programId: $programId, input: $input) {
      program {
        id
        revision
        animalCount
      }
      answers {
        id
        state
        sentence
        remarks
        place
        remedy
      }
    }
  }
`);
export type EntryAnswer = ResultOf<typeof RecordEntries>['recordEntries']['answers'][number];
