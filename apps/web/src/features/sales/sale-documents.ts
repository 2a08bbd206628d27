import { cautionFields, geneRowFields, namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** What can honestly be said of some animals before they go. */
export const SaleCheckQuery = graphql(
  `
    query SaleCheck($programId: ID!, $animalIds: [ID!]!) {
      saleCheck(programId: $programId, animalIds: $animalIds) {
        animals {
          ...NamedAnimal
        }
        sentence
        relatedness {
          pairs {
            a {
              id
            }
            b {
              id
            }
            relatedness
            lowest
            highest
            youngF
            words
          }
          generationsKnown
          sentence
          assumptions
        }
        genes {
          ...GeneRowFields
        }
        cautions {
          ...CautionFields
        }
        mustTell
        letter
      }
    }
  `,
  [namedAnimal, geneRowFields, cautionFields],
);

export type SaleCheck = ResultOf<typeof SaleCheckQuery>['saleCheck'];
export type RelatedPair = SaleCheck['relatedness']['pairs'][number];
