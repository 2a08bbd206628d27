import { graphql, type ResultOf } from '../../lib/graphql.js';
import { yardAnimal, yardClutch, yardPlaces } from '../../lib/yard-fragments.js';

export const PaperQuery = graphql(
  `
    query Paper($programId: ID!) {
      labelAddress(programId: $programId) {
        base
        isSet
      }
      roundCopy(programId: $programId) {
        ...YardPlaces
        animals {
          ...YardAnimal
        }
        clutches {
          ...YardClutch
        }
      }
    }
  `,
  [yardPlaces, yardAnimal, yardClutch],
);
export type PaperCopy = ResultOf<typeof PaperQuery>['roundCopy'];

const countFields = graphql(`
  fragment CountFields on StockCount @_unmask {
    males
    females
    unsexed
  }
`);
export type StockCount = ResultOf<typeof countFields>;

export const StockBookQuery = graphql(
  `
    query StockBookOfYear($programId: ID!, $year: Int!) {
      stockBook(programId: $programId, year: $year) {
        year
        until
        remarks
        species {
          species
          atStart {
            ...CountFields
          }
          hatched {
            ...CountFields
          }
          arrived {
            ...CountFields
          }
          corrected {
            ...CountFields
          }
          died {
            ...CountFields
          }
          left {
            ...CountFields
          }
          lost {
            ...CountFields
          }
          atEnd {
            ...CountFields
          }
        }
      }
    }
  `,
  [countFields],
);
