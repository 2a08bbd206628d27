import { graphql } from '../../lib/graphql.js';

export const StartRestore = graphql(`
  mutation StartRestore($input: StartRestoreInput!) {
    startRestore(input: $input) {
      id
    }
  }
`);

export const RestoredQuery = graphql(`
  query Restored($jobId: ID!) {
    job(jobId: $jobId) {
      id
      restored {
        id
        name
        animalCount
      }
    }
  }
`);

export const BackupsQuery = graphql(`
  query Backups($programId: ID!) {
    backups(programId: $programId) {
      folder
      kept
      last {
        at
        isGood
        sentence
      }
      check {
        at
        isGood
        sentence
      }
    }
  }
`);

export const StartBackup = graphql(`
  mutation StartBackup($programId: ID!, $input: StartBackupInput!) {
    startBackup(programId: $programId, input: $input) {
      id
    }
  }
`);
