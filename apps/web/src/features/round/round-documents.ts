import { graphql, type ResultOf } from '../../lib/graphql.js';
import { yardAnimal, yardClutch, yardPlaces } from '../../lib/yard-fragments.js';

export const RoundViewerQuery = graphql(`
  query RoundViewer {
    viewer {
      account {
        id
        name
      }
      memberships {
        role
        program {
          id
          revision
        }
      }
    }
  }
`);

export const RoundCopyQuery = graphql(
  `
    query RoundCopy($programId: ID!) {
      roundCopy(programId: $programId) {
        ...YardPlaces
        programId
        programName
        revision
        day
        animals {
          ...YardAnimal
          weighed
          lastSeen
          photoId
        }
        clutches {
          ...YardClutch
          eggs
          open
          boxes {
            label
            eggs
            celsius
          }
        }
        away {
          id
          code
          name
          words
          since
          isEscaped
        }
        species
        nextCode
      }
    }
  `,
  [yardPlaces, yardAnimal, yardClutch],
);
export type RoundCopy = ResultOf<typeof RoundCopyQuery>['roundCopy'];
export type RoundAnimal = RoundCopy['animals'][number];
export type RoundPen = RoundCopy['pens'][number];
export type RoundClutch = RoundCopy['clutches'][number];
export type RoundAway = RoundCopy['away'][number];
export type RoundLot = RoundCopy['lots'][number];

export const SendPhoto = graphql(`
  mutation SendPhoto($programId: ID!, $input: AddPhotoInput!) {
    addPhoto(programId: $programId, input: $input) {
      command {
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);

export const TakeBackEntry = graphql(`
  mutation TakeBackEntry($programId: ID!, $input: UndoInput!) {
    undo(programId: $programId, input: $input) {
      command {
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);
