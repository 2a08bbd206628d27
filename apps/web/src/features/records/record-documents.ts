import { graphql, type ResultOf } from '../../lib/graphql.js';

/** What the forms offer to choose from. */
export const ChoicesQuery = graphql(`
  query EntryChoices($programId: ID!) {
    yard(programId: $programId) {
      pens {
        id
        name
        isQuarantine
        occupants {
          stayId
        }
      }
    }
    clutches(programId: $programId, first: 200) {
      edges {
        node {
          stage
          sentence
          clutch {
            id
            code
          }
        }
      }
    }
    lots(programId: $programId) {
      id
      code
      count
      pen
    }
    definitions(programId: $programId) {
      loci {
        id
        code
        name
        alleles {
          name
        }
      }
      traits {
        id
        name
      }
    }
  }
`);
export type Choices = ResultOf<typeof ChoicesQuery>;

/** The next free code, by the pattern of the latest ones. */
export const FreeCodeQuery = graphql(`
  query FreeCode($programId: ID!) {
    suggestCode(programId: $programId)
  }
`);

export const WaitingQuery = graphql(`
  query WaitingEntries($programId: ID!) {
    waitingEntries(programId: $programId) {
      id
      at
      by
      kind
      on
      entry
      message
      remedy
    }
  }
`);
export type WaitingEntry = ResultOf<typeof WaitingQuery>['waitingEntries'][number];

export const SettleEntry = graphql(`
  mutation SettleEntry($programId: ID!, $input: SettleEntryInput!) {
    settleEntry(programId: $programId, input: $input) {
      program {
        id
        revision
      }
      answers {
        id
        state
        sentence
        remedy
      }
    }
  }
`);
