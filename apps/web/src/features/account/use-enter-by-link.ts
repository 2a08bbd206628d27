import { useEffect, useState } from 'react';
import { useClient } from 'urql';
import { type ApiFault, apiFaults } from '../../lib/api-fault.js';
import { graphql } from '../../lib/graphql.js';

const EnterByLink = graphql(`
  mutation EnterByLink($token: String!) {
    enterByLink(token: $token) {
      account {
        id
        email
        name
        hasPassword
      }
    }
  }
`);

export type Entering =
  | { readonly state: 'waiting' }
  | { readonly state: 'refused'; readonly faults: ApiFault[] }
  | {
      readonly state: 'in';
      readonly account: { email: string; name: string; hasPassword: boolean };
    };

/** A link counts once; React may mount a page twice. So each token is sent once a visit. */
const sent = new Map<string, Promise<Entering>>();

/**
 * Uses up the one-time link of the address, `/enter#token=...`. The token stands behind the
 * hash so that it reaches no server log, and is wiped from the address at once.
 */
export function useEnterByLink(): Entering {
  const client = useClient();
  const [token] = useState(() => new URLSearchParams(window.location.hash.slice(1)).get('token'));
  const [entering, setEntering] = useState<Entering>({ state: 'waiting' });
  useEffect(() => {
    if (!token) {
      setEntering({
        state: 'refused',
        faults: [
          {
            code: 'BAD_USER_INPUT',
            message: 'The link is not whole: its last part is missing.',
            remedy: 'Copy all of it, up to the last letter.',
          },
        ],
      });
      return;
    }
    window.history.replaceState(window.history.state, '', window.location.pathname);
    const answer =
      sent.get(token) ??
      client
        .mutation(EnterByLink, { token })
        .toPromise()
        .then(({ data, error }): Entering => {
          if (error) return { state: 'refused', faults: apiFaults(error) };
          if (!data) throw new Error('The server answered neither data nor error.');
          return { state: 'in', account: data.enterByLink.account };
        });
    sent.set(token, answer);
    let left = false;
    answer.then((result) => !left && setEntering(result));
    return () => {
      left = true;
    };
  }, [client, token]);
  return entering;
}
