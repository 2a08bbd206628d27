import { createContext, type ReactNode, useContext, useMemo, useState } from 'react';
import { type Client, Provider } from 'urql';
import { ViewerQuery } from '../features/account/viewer.js';
import { createApiClient } from '../lib/api-client.js';
import { ABOUT_A_PROGRAM } from '../lib/use-read.js';

const RenewContext = createContext<() => void>(() => {});

/** Gives all pages the API client. */
export function Session({ children }: { readonly children: ReactNode }) {
  const [client, setClient] = useState(firstClient);
  const renew = useMemo(() => () => setClient(createApiClient()), []);
  return (
    <RenewContext value={renew}>
      <Provider value={client}>{children}</Provider>
    </RenewContext>
  );
}

/** Asks who is signed in while the page's own script is still on its way. */
function firstClient(): Client {
  const client = createApiClient();
  if (location.pathname.startsWith('/programs/')) {
    // Told where it is read: by the frame of the program's pages.
    void client.query(ViewerQuery, {}, ABOUT_A_PROGRAM).toPromise();
  }
  return client;
}

/** Forgets every answer: call it when somebody signed in or out. */
export const useRenewSession = () => useContext(RenewContext);
