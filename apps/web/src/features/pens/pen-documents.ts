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
        unplacedCount
        unplaced(first: 40) {
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

type Answer = ResultOf<typeof PenConflictsQuery>['penConflicts'];
export type PenConflicts = Omit<Answer, 'flags'> & {
  readonly flags: readonly (Answer['flags'][number] & { readonly source: string })[];
};

/** The answer with every flag's source: that of its rule, where the flag names none of its own. */
export function withSources(answer: Answer): PenConflicts {
  const sources = new Map(answer.rules.map(({ rule, source }) => [rule, source]));
  const flags = answer.flags.map((flag) => ({
    ...flag,
    source: flag.source ?? sources.get(flag.rule) ?? '',
  }));
  return { ...answer, flags };
}
export type PenRuleState = PenConflicts['rules'][number];
export type Pen = PenConflicts['pens'][number];
export type PenFlag = PenConflicts['flags'][number];
export type PenAnimal = Pen['animals'][number];
