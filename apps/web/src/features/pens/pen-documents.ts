import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** Who is where, and who is in whose way. */
export const PenConflictsQuery = graphql(
  `
    query PenConflicts($programId: ID!) {
      penConflicts(programId: $programId) {
        day
        areGenesPending
        sentence
        pens {
          id
          name
          areaM2
          isQuarantine
          features
          capacity
          corners {
            x
            y
          }
          animals {
            sclMm
            maturity
            maturePossibly
            matureSurely
            sizes {
              years
              middle
              low
              high
            }
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
          overOn
          message
          remedy
          source
          young
          pen {
            id
            name
          }
          animals {
            id
            code
          }
        }
        rules {
          rule
          title
          setting
          source
        }
        assumptions
      }
    }
  `,
  [namedAnimal],
);

/** The pens with the least against an animal. */
export const PensIfMovedQuery = graphql(`
  query PensIfMoved($programId: ID!, $animalId: ID!) {
    pensIfMoved(programId: $programId, animalId: $animalId) {
      penId
      name
      sentence
      isFree
    }
  }
`);

export type PenConflicts = ResultOf<typeof PenConflictsQuery>['penConflicts'];
export type PenRuleState = PenConflicts['rules'][number];
export type Pen = PenConflicts['pens'][number];
export type PenFlag = PenConflicts['flags'][number];
export type PenAnimal = Pen['animals'][number];
