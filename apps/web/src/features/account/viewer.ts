import { graphql } from '../../lib/graphql.js';

/** Who is signed in, and the programs open to them; null: nobody. */
export const ViewerQuery = graphql(`
  query Viewer {
    viewer {
      account {
        id
        email
        name
        hasPassword
      }
      memberships {
        role
        program {
          id
          name
          revision
          isDemo
        }
      }
    }
  }
`);

export const SignOut = graphql(`
  mutation SignOut {
    signOut
  }
`);
