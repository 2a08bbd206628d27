import { graphql } from '../../lib/graphql.js';

/** What a new animal begins with. */
export const FreshAnimalQuery = graphql(`
  query FreshAnimal($programId: ID!) {
    suggestCode(programId: $programId)
    animals(programId: $programId, first: 1) {
      edges {
        node {
          species
        }
      }
    }
  }
`);

export const AddAnimal = graphql(`
  mutation AddAnimal($programId: ID!, $input: AddAnimalInput!) {
    addAnimal(programId: $programId, input: $input) {
      commandId
      animal {
        id
        code
      }
      program {
        id
        revision
        animalCount
      }
    }
  }
`);

export const EditAnimal = graphql(`
  mutation EditAnimal($programId: ID!, $input: EditAnimalInput!) {
    editAnimal(programId: $programId, input: $input) {
      commandId
      animal {
        id
        code
      }
      program {
        id
        revision
      }
    }
  }
`);

export const RemoveAnimal = graphql(`
  mutation RemoveAnimal($programId: ID!, $input: RemoveAnimalInput!) {
    removeAnimal(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
        animalCount
      }
    }
  }
`);
