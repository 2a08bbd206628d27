import { graphql, type ResultOf } from '../../lib/graphql.js';

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

export const RoundCopyQuery = graphql(`
  query RoundCopy($programId: ID!) {
    roundCopy(programId: $programId) {
      programId
      programName
      revision
      day
      animals {
        id
        code
        name
        sex
        penId
        marks
        massG
        weighed
        sclMm
        lastSeen
        photoId
      }
      pens {
        id
        name
        isQuarantine
      }
      lots {
        id
        code
        count
        penId
      }
      clutches {
        id
        code
        laid
        mothers
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
      traits
      species
      nextCode
    }
  }
`);
export type RoundCopy = ResultOf<typeof RoundCopyQuery>['roundCopy'];
export type RoundAnimal = RoundCopy['animals'][number];
export type RoundPen = RoundCopy['pens'][number];
export type RoundClutch = RoundCopy['clutches'][number];
export type RoundAway = RoundCopy['away'][number];
export type RoundLot = RoundCopy['lots'][number];

export const SendEntries = graphql(`
  mutation SendEntries($programId: ID!, $input: RecordEntriesInput!) {
    recordEntries(programId: $programId, input: $input) {
      answers {
        id
        state
        sentence
        remarks
        remedy
      }
      program {
        id
        revision
      }
    }
  }
`);

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
