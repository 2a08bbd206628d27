import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

export const BACK = ['2', '3', '4', '6', '8'] as const;
export const ON = ['0', '1', '2'] as const;

/** How many generations back and on an address asks for. */
export const reachOf = (params: URLSearchParams) => ({
  back: BACK.find((n) => n === params.get('back')) ?? '4',
  on: ON.find((n) => n === params.get('on')) ?? '0',
});

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
        areGenesPending
        assumptions
      }
    }
  `,
  [namedAnimal],
);

export type LineageAnswer = ResultOf<typeof LineageQuery>['lineage'];
export type PlacedAnimal = LineageAnswer['animals'][number];
export type PlacedPair = LineageAnswer['pairs'][number];
