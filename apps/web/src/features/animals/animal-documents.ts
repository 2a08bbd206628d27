import { graphql, type ResultOf } from '../../lib/graphql.js';

const parentFields = graphql(`
  fragment ParentFields on ParentFinding @_unmask {
    unrecorded
    candidates {
      probability
      basis
      animal {
        id
        code
        name
      }
    }
  }
`);

/** One page of the register. */
export const RegisterPageQuery = graphql(
  `
    query RegisterPage(
      $programId: ID!
      $first: Int!
      $after: String
      $search: String
      $sex: Sex
      $species: String
      $orderBy: AnimalOrder!
    ) {
      animals(
        programId: $programId
        first: $first
        after: $after
        search: $search
        sex: $sex
        species: $species
        orderBy: $orderBy
      ) {
        totalCount
        pageInfo {
          hasNextPage
          endCursor
        }
        edges {
          node {
            id
            code
            name
            species
            sex {
              sex
            }
            hatched {
              text
            }
            dam {
              ...ParentFields
            }
            sire {
              ...ParentFields
            }
            inbreeding {
              value
              equivalentGenerations
            }
          }
        }
      }
    }
  `,
  [parentFields],
);

export type RegisterRow = ResultOf<typeof RegisterPageQuery>['animals']['edges'][number]['node'];
export type ParentFinding = RegisterRow['sire'];

/** How many animals there are of each sex. */
export const RegisterCountsQuery = graphql(`
  query RegisterCounts($programId: ID!) {
    all: animals(programId: $programId, first: 1) {
      totalCount
    }
    males: animals(programId: $programId, first: 1, sex: MALE) {
      totalCount
    }
    females: animals(programId: $programId, first: 1, sex: FEMALE) {
      totalCount
    }
    unsexed: animals(programId: $programId, first: 1, sex: UNKNOWN) {
      totalCount
    }
  }
`);

/** All that the page of one animal shows. */
export const AnimalQuery = graphql(
  `
    query Animal($programId: ID!, $id: ID!) {
      animal(programId: $programId, id: $id) {
        id
        code
        name
        species
        origin
        notes
        hatched {
          text
          earliest
          latest
        }
        clutch {
          id
          code
        }
        sex {
          sex
          why
        }
        dam {
          ...ParentFields
        }
        sire {
          ...ParentFields
        }
        inbreeding {
          value
          completeness
          equivalentGenerations
          sentence
          assumptions
          revision
        }
      }
      history(programId: $programId, animalId: $id, first: 5) {
        totalCount
        edges {
          node {
            id
            sentence
            at
            by
            undone
          }
        }
      }
    }
  `,
  [parentFields],
);

export type AnimalDetail = NonNullable<ResultOf<typeof AnimalQuery>['animal']>;
