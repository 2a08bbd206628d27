import { cautionFields, geneRowFields, namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** The animals that an address names. */
export const animalIdsOf = (params: URLSearchParams): string[] =>
  (params.get('animals') ?? '').split(',').filter(Boolean);

/** What can honestly be said of some animals before they go, and of them with the buyer's own. */
export const SaleCheckQuery = graphql(
  `
    query SaleCheck($programId: ID!, $animalIds: [ID!]!, $buyer: [BuyerAnimalInput!]) {
      saleCheck(programId: $programId, animalIds: $animalIds, buyer: $buyer) {
        animals {
          id
          code
          name
          sex
          isBuyers
          generationsKnown
          known
        }
        sentence
        pairs {
          a
          b
          relatedness
          lowest
          highest
          youngF
          isKnown
          canBreed
          words
          through {
            contribution
            animal {
              id
              code
            }
          }
        }
        genes {
          ...GeneRowFields
        }
        cautions {
          ...CautionFields
          jurisdiction
        }
        mustTell
        letter
        assumptions
      }
    }
  `,
  [geneRowFields, cautionFields],
);

export type SaleCheck = ResultOf<typeof SaleCheckQuery>['saleCheck'];
export type SaleAnimal = SaleCheck['animals'][number];
export type SalePair = SaleCheck['pairs'][number];

/** The sheets that go with the animals. */
export const SaleSheetsQuery = graphql(
  `
    query SaleSheets($programId: ID!, $animalIds: [ID!]!) {
      saleCheck(programId: $programId, animalIds: $animalIds) {
        sheets {
          animal {
            ...NamedAnimal
          }
          sentence
          lines {
            what
            finding
            basis
          }
          notKnown
          care
        }
        pairs {
          a
          b
          words
        }
      }
    }
  `,
  [namedAnimal],
);

export type SaleSheet = ResultOf<typeof SaleSheetsQuery>['saleCheck']['sheets'][number];

/** A buyer's file, read and not kept. */
export const ReadBuyerFileQuery = graphql(`
  query ReadBuyerFile($programId: ID!, $text: String!) {
    readBuyerFile(programId: $programId, text: $text) {
      animals {
        code
        name
        sex
        hatched
        clutch
        sires {
          code
          probability
        }
        dams {
          code
          probability
        }
        sameCode {
          id
          code
          name
          hatched {
            text
          }
        }
      }
      unread
      faults
    }
  }
`);

export type BuyerFileAnimal = ResultOf<
  typeof ReadBuyerFileQuery
>['readBuyerFile']['animals'][number];
