import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** Who is where, and who is in whose way. */
export const PenConflictsQuery = graphql(
  `
    query PenConflicts($programId: ID!) {
      penConflicts(programId: $programId) {
        day
        sentence
        pens {
          id
          name
          areaM2
          isQuarantine
          features
          animals {
            sclMm
            maturity
            canConflict
            animal {
              ...NamedAnimal
            }
          }
        }
        unplaced {
          ...NamedAnimal
        }
        flags {
          rule
          severity
          possibleFrom
          certainFrom
          message
          remedy
          source
          pen {
            id
          }
          animals {
            id
            code
          }
        }
        assumptions
      }
    }
  `,
  [namedAnimal],
);

export type PenConflicts = ResultOf<typeof PenConflictsQuery>['penConflicts'];
export type Pen = PenConflicts['pens'][number];
export type PenFlag = PenConflicts['flags'][number];
