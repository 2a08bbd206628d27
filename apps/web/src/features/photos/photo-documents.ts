import { graphql, type ResultOf } from '../../lib/graphql.js';

export const PhotosQuery = graphql(`
  query Photos($programId: ID!, $animalId: ID!) {
    photos(programId: $programId, animalId: $animalId) {
      usedBytes
      roomBytes
      photos {
        id
        date
        caption
      }
    }
  }
`);

export type Photo = ResultOf<typeof PhotosQuery>['photos']['photos'][number];

export const AddPhoto = graphql(`
  mutation AddPhoto($programId: ID!, $input: AddPhotoInput!) {
    addPhoto(programId: $programId, input: $input) {
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

export const RemovePhoto = graphql(`
  mutation RemovePhoto($programId: ID!, $input: RemovePhotoInput!) {
    removePhoto(programId: $programId, input: $input) {
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
