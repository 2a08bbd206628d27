import { graphql, type ResultOf } from '../../lib/graphql.js';

export const ProgramQuery = graphql(`
  query Program($programId: ID!) {
    program(programId: $programId) {
      id
      animalCount
    }
  }
`);

/** For owners only. */
export const MembersQuery = graphql(`
  query Members($programId: ID!) {
    viewer {
      account {
        id
      }
    }
    program(programId: $programId) {
      id
      members {
        role
        since
        account {
          id
          name
          email
        }
      }
    }
  }
`);

export type Member = ResultOf<typeof MembersQuery>['program']['members'][number];

export const ChangeRole = graphql(`
  mutation ChangeRole($programId: ID!, $input: ChangeRoleInput!) {
    changeRole(programId: $programId, input: $input) {
      id
    }
  }
`);

export const RemoveMember = graphql(`
  mutation RemoveMember($programId: ID!, $input: RemoveMemberInput!) {
    removeMember(programId: $programId, input: $input) {
      id
    }
  }
`);

export const InviteMemberMutation = graphql(`
  mutation InviteMember($programId: ID!, $input: InviteMemberInput!) {
    inviteMember(programId: $programId, input: $input) {
      link
      expiresAt
      role
    }
  }
`);
