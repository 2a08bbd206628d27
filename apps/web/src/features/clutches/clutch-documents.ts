import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

const sheetFields = graphql(
  `
    fragment SheetFields on ClutchSheet @_unmask {
      clutch {
        id
        code
        animals {
          ...NamedAnimal
        }
      }
      laid
      stage
      sentence
      eggs
      broken
      notSet
      hatched
      hatchedFrom
      hatchedTo
      open
      losses {
        infertile
        diedEarly
        diedLate
        lost
      }
      batches {
        id
        label
        eggs
        setOn
        celsius
        hatchWindow {
          from
          to
          source
        }
        sexOutlook
        danger
      }
      dam {
        unrecorded
        candidates {
          probability
          basis
          animal {
            ...NamedAnimal
          }
        }
      }
      lots
    }
  `,
  [namedAnimal],
);
export type ClutchSheet = ResultOf<typeof sheetFields>;

/** The clutches of a year, or of all years. */
export const ClutchesQuery = graphql(
  `
    query Clutches($programId: ID!, $first: Int!, $after: String, $year: Int, $stage: ClutchStage) {
      clutches(programId: $programId, first: $first, after: $after, year: $year, stage: $stage) {
        totalCount
        pageInfo {
          hasNextPage
          endCursor
        }
        edges {
          node {
            ...SheetFields
          }
        }
      }
    }
  `,
  [sheetFields],
);

/** One clutch with its possible fathers and how they follow. */
export const ClutchQuery = graphql(
  `
    query Clutch($programId: ID!, $id: ID!) {
      clutch(programId: $programId, id: $id) {
        ...SheetFields
        pen
        species
        sire {
          unrecorded
          candidates {
            probability
            basis
            animal {
              ...NamedAnimal
            }
          }
        }
        derived {
          sentence
          unrecorded
          assumptions
          fathers {
            probability
            possibleDays
            certainDays
            matingsSeen
            lastDay
            animal {
              ...NamedAnimal
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
    }
  `,
  [sheetFields, namedAnimal],
);
export type ClutchPage = ResultOf<typeof ClutchQuery>;
export type ClutchDetail = NonNullable<ClutchPage['clutch']>;

export const EditClutch = graphql(`
  mutation EditClutch($programId: ID!, $input: EditClutchInput!) {
    editClutch(programId: $programId, input: $input) {
      commandId
      program {
        id
        revision
      }
      clutch {
        clutch {
          id
          code
        }
      }
    }
  }
`);

export const RemoveClutch = graphql(`
  mutation RemoveClutch($programId: ID!, $input: RemoveClutchInput!) {
    removeClutch(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);

/** When the clutches were laid, to choose a year from. */
export const ClutchYearsQuery = graphql(`
  query ClutchYears($programId: ID!) {
    seasonSettings(programId: $programId) {
      seasonStartMonth
    }
    clutches(programId: $programId, first: 500) {
      edges {
        node {
          laid
          hatchedFrom
        }
      }
    }
  }
`);
