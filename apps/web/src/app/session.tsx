import { createContext, type ReactNode, useContext, useMemo, useState } from 'react';
import { Provider } from 'urql';
import { createApiClient } from '../lib/api-client.js';
import { firstClient } from './first-questions.js';

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

/** Forgets every answer: call it when somebody signed in or out. */
export const useRenewSession = () => useContext(RenewContext);
