import { graphql, type ResultOf } from './graphql.js';

/** An animal as an answer names it. */
export const namedAnimal = graphql(`
  fragment NamedAnimal on Animal @_unmask {
    id
    code
    name
    sex {
      sex
    }
  }
`);
export type NamedAnimal = ResultOf<typeof namedAnimal>;

/** A probability: value, exact fraction, in words, of twenty. */
export const shareFields = graphql(`
  fragment ShareFields on Share @_unmask {
    value
    exact
    said
    ofTwenty
    about
  }
`);
export type Share = ResultOf<typeof shareFields>;

export const cautionFields = graphql(`
  fragment CautionFields on Caution @_unmask {
    lead
    text
    source
    isHarm
  }
`);

/** What one animal carries, gene by gene. */
export const geneRowFields = graphql(
  `
    fragment GeneRowFields on GeneRow @_unmask {
      animal {
        ...NamedAnimal
      }
      findings {
        locus {
          id
          code
          name
        }
        label
        certainCopies
        carries {
          ...ShareFields
        }
        why
      }
    }
  `,
  [namedAnimal, shareFields],
);
export type GeneRow = ResultOf<typeof geneRowFields>;
export type GeneFinding = GeneRow['findings'][number];
