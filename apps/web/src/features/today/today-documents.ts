import { graphql, type ResultOf } from '../../lib/graphql.js';

/** What wants a decision. */
export const TodayQuery = graphql(`
  query Today($programId: ID!) {
    today(programId: $programId) {
      sentence
      decisions {
        kind
        title
        sentence
        link
        severity
      }
      unknown
      areGenesPending
    }
  }
`);

export type Severity = ResultOf<typeof TodayQuery>['today']['decisions'][number]['severity'];
