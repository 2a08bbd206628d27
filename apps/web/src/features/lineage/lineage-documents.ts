import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** Where an animal comes from, placed for drawing. */
export const LineageQuery = graphql(
  `
    query Lineage($programId: ID!, $animalId: ID!, $up: Int!, $down: Int!) {
      lineage(programId: $programId, animalId: $animalId, up: $up, down: $down) {
        animal {
          ...NamedAnimal
        }
        sentence
        width
        generations
        animals {
          x
          generation
          animal {
            ...NamedAnimal
          }
        }
        pairs {
          x
          generation
          isRelated
          parents {
            animalId
            probability
            line {
              x
              generation
            }
          }
          young {
            animalId
            line {
              x
              generation
            }
          }
        }
        founders {
          share
          animal {
            ...NamedAnimal
          }
        }
        unrecorded
        completeness
        young {
          probability
          animal {
            ...NamedAnimal
          }
        }
        descendants
        fathers {
          before
          after
          basis
          animal {
            ...NamedAnimal
          }
        }
        assumptions
      }
    }
  `,
  [namedAnimal],
);

export type LineageAnswer = ResultOf<typeof LineageQuery>['lineage'];
export type PlacedAnimal = LineageAnswer['animals'][number];
export type PlacedPair = LineageAnswer['pairs'][number];
