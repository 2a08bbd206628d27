import { graphql, type ResultOf } from '../../lib/graphql.js';

/** What has been told so far: read back from the records, so that it goes on from any device. */
export const StartQuery = graphql(`
  query KitchenTable($programId: ID!) {
    animals(programId: $programId, first: 300) {
      totalCount
      edges {
        node {
          id
          code
          species
          origin
          sex {
            sex
          }
          hatched {
            text
          }
          sire {
            unrecorded
            candidates {
              animal {
                code
              }
              probability
            }
          }
        }
      }
    }
    history(programId: $programId, first: 100) {
      edges {
        node {
          id
          kind
          sentence
          undone
        }
      }
    }
    seasonSettings(programId: $programId) {
      yard
      yardSince
    }
    definitions(programId: $programId) {
      traits {
        id
        name
      }
    }
    yard(programId: $programId) {
      pens {
        id
        name
      }
    }
  }
`);
export type Told = ResultOf<typeof StartQuery>;
export type ToldAnimal = Told['animals']['edges'][number]['node'];

export const FirstAnswersQuery = graphql(`
  query FirstAnswers($programId: ID!) {
    penConflicts(programId: $programId) {
      sentence
    }
  }
`);

export const BestPairsQuery = graphql(`
  query BestPairs($programId: ID!) {
    seasonPairings(programId: $programId, first: 2) {
      sentence
      pairs {
        pair {
          sentence
          sire {
            code
          }
          dam {
            code
          }
        }
      }
    }
  }
`);

export const TellAdult = graphql(`
  mutation TellAdult($programId: ID!, $input: AddAnimalInput!) {
    addAnimal(programId: $programId, input: $input) {
      animal {
        id
        code
      }
      commandId
      program {
        id
        revision
      }
    }
  }
`);

export const TellPen = graphql(`
  mutation TellPen($programId: ID!, $input: AddPenInput!) {
    addPen(programId: $programId, input: $input) {
      pen {
        id
        name
      }
      commandId
      program {
        id
        revision
      }
    }
  }
`);

export const TellGene = graphql(`
  mutation TellGene($programId: ID!, $input: AddLocusInput!) {
    addLocus(programId: $programId, input: $input) {
      program {
        id
        revision
      }
    }
  }
`);

export const TellTrait = graphql(`
  mutation TellTrait($programId: ID!, $input: AddTraitInput!) {
    addTrait(programId: $programId, input: $input) {
      program {
        id
        revision
      }
    }
  }
`);

export const TellYard = graphql(`
  mutation TellYard($programId: ID!, $input: SeasonSettingsInput!) {
    changeSeasonSettings(programId: $programId, input: $input) {
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
