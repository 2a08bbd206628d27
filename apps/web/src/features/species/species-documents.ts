import { graphql, type ResultOf } from '../../lib/graphql.js';

export const SpeciesQuery = graphql(`
  query Species($programId: ID!) {
    species(programId: $programId) {
      species
      isShipped
      facts {
        name
        value
        source
        confidence
        note
        key
        usedFor
        own
        reason
      }
    }
  }
`);

export type SpeciesProfile = ResultOf<typeof SpeciesQuery>['species'][number];
export type SpeciesFact = SpeciesProfile['facts'][number];

export const SetSpeciesFact = graphql(`
  mutation SetSpeciesFact($programId: ID!, $input: SetSpeciesFactInput!) {
    setSpeciesFact(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);
