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

const eggLookFields = graphql(
  `
    fragment EggLookFields on EggLook @_unmask {
      kind
      name
      eggs
      share {
        ...ShareFields
      }
    }
  `,
  [shareFields],
);
export type EggLook = ResultOf<typeof eggLookFields>;

/** What the young of two animals cost, which is known long before what they can be. */
export const PairCostQuery = graphql(`
  query PairCost($programId: ID!, $sireId: ID!, $damId: ID!) {
    crossOdds(programId: $programId, sireId: $sireId, damId: $damId) {
      inbreeding {
        sentence
      }
    }
  }
`);

/** What the eggs of two animals can be. */
export const CrossOddsQuery = graphql(
  `
    query CrossOdds($programId: ID!, $sireId: ID!, $damId: ID!, $eggs: Int!) {
      crossOdds(programId: $programId, sireId: $sireId, damId: $damId, eggs: $eggs) {
        sentence
        caveat
        targets {
          trait {
            id
            name
          }
          share {
            ...ShareFields
          }
          looks {
            ...EggLookFields
          }
          plainSentence
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
            looks {
              ...EggLookFields
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
  [namedAnimal, shareFields, eggLookFields, geneRowFields, cautionFields],
);

export type CrossAnswer = ResultOf<typeof CrossOddsQuery>['crossOdds'];
export type TargetOdds = CrossAnswer['targets'][number];

/** One animal by its code. */
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

const weighedPairFields = graphql(
  `
    fragment WeighedPairFields on WeighedPair @_unmask {
      sire {
        ...NamedAnimal
      }
      dam {
        ...NamedAnimal
      }
      value
      F
      unknownBehind {
        id
        code
      }
      parts {
        eggs
        fertility
        hatch
        inbreedingSurvival
        target
      }
      reason
      cautions {
        ...CautionFields
      }
    }
  `,
  [namedAnimal, cautionFields],
);
export type WeighedPair = ResultOf<typeof weighedPairFields>;

const pairingFiguresFields = graphql(`
  fragment PairingFiguresFields on PairingFigures @_unmask {
    clutches
    eggsPerClutch
    fertility
    hatch
    lethalEquivalents
    sources
    costs {
      lethalEquivalents
      source
      measuredOn
    }
    pens {
      id
      name
    }
  }
`);
export type PairingFigures = ResultOf<typeof pairingFiguresFields>;

/** All possible mates of one animal, best first. */
export const MatesQuery = graphql(
  `
    query Mates(
      $programId: ID!
      $animalId: ID!
      $traitId: ID
      $first: Int!
      $settings: PairingSettingsInput
    ) {
      genotypeOdds(programId: $programId, animalIds: []) {
        traits {
          id
          name
        }
      }
      suggestPairings(
        programId: $programId
        animalId: $animalId
        traitId: $traitId
        first: $first
        settings: $settings
      ) {
        trait {
          id
          name
        }
        suggestions {
          ...WeighedPairFields
        }
        over {
          ...WeighedPairFields
        }
        weighed
        settings {
          ...PairingFiguresFields
        }
        leftOut
        assumptions
      }
    }
  `,
  [weighedPairFields, pairingFiguresFields],
);

/** Who goes with whom: the best male of each female. */
export const SeasonQuery = graphql(
  `
    query Season($programId: ID!, $traitId: ID, $first: Int!, $settings: PairingSettingsInput) {
      genotypeOdds(programId: $programId, animalIds: []) {
        traits {
          id
          name
        }
      }
      seasonPairings(
        programId: $programId
        traitId: $traitId
        first: $first
        settings: $settings
      ) {
        trait {
          id
          name
        }
        sentence
        pairs {
          pair {
            ...WeighedPairFields
          }
          next {
            ...WeighedPairFields
          }
        }
        females
        over {
          ...WeighedPairFields
        }
        weighed
        settings {
          ...PairingFiguresFields
        }
        leftOut
        assumptions
      }
    }
  `,
  [weighedPairFields, pairingFiguresFields],
);
