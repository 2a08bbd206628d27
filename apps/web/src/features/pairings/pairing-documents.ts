import {
  cautionFields,
  geneRowFields,
  namedAnimal,
  shareFields,
} from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** The two animals of an address, which names them by their codes. */
export const PairByCodeQuery = graphql(
  `
    query PairByCode($programId: ID!, $sire: String!, $dam: String!) {
      sire: animal(programId: $programId, code: $sire) {
        ...NamedAnimal
      }
      dam: animal(programId: $programId, code: $dam) {
        ...NamedAnimal
      }
    }
  `,
  [namedAnimal],
);

/** What the eggs of two animals can be. */
export const CrossOddsQuery = graphql(
  `
    query CrossOdds($programId: ID!, $sireId: ID!, $damId: ID!, $eggs: Int!) {
      crossOdds(programId: $programId, sireId: $sireId, damId: $damId, eggs: $eggs) {
        sentence
        caveat
        traits {
          trait {
            id
            name
          }
          classes {
            name
            isTarget
            share {
              ...ShareFields
            }
          }
        }
        targets {
          trait {
            id
            name
          }
          share {
            ...ShareFields
          }
          clutch {
            count
            exactly
            atLeast
          }
          atLeastOne {
            ...ShareFields
          }
          eggsNeeded {
            level
            eggs
          }
          limit {
            ...ShareFields
          }
          cases {
            sentence
            probability {
              ...ShareFields
            }
            perEgg {
              ...ShareFields
            }
          }
        }
        inbreeding {
          value
          lowest
          highest
          isRangeExact
          sentence
          commonAncestors {
            contribution
            animal {
              ...NamedAnimal
            }
          }
        }
        parents {
          ...GeneRowFields
        }
        cautions {
          ...CautionFields
        }
        assumptions
      }
    }
  `,
  [namedAnimal, shareFields, geneRowFields, cautionFields],
);

export type CrossAnswer = ResultOf<typeof CrossOddsQuery>['crossOdds'];
export type TargetOdds = CrossAnswer['targets'][number];
export type OutcomeClass = CrossAnswer['traits'][number]['classes'][number];

/** One animal by its code, and the traits a ranking can seek. */
export const SeekerQuery = graphql(
  `
    query Seeker($programId: ID!, $code: String!) {
      animal(programId: $programId, code: $code) {
        ...NamedAnimal
      }
    }
  `,
  [namedAnimal],
);

/** All possible mates of one animal, best first. */
export const MatesQuery = graphql(
  `
    query Mates($programId: ID!, $animalId: ID!, $traitId: ID, $first: Int!) {
      genotypeOdds(programId: $programId, animalIds: [$animalId]) {
        traits {
          id
          name
        }
      }
      suggestPairings(programId: $programId, animalId: $animalId, traitId: $traitId, first: $first) {
        trait {
          id
          name
        }
        suggestions {
          mate {
            ...NamedAnimal
          }
          value
          F
          parts {
            eggs
            fertility
            hatch
            inbreedingSurvival
            target
          }
          sentence
          cautions {
            ...CautionFields
          }
        }
        leftOut
        assumptions
      }
    }
  `,
  [namedAnimal, cautionFields],
);

export type Suggestion = ResultOf<typeof MatesQuery>['suggestPairings']['suggestions'][number];
