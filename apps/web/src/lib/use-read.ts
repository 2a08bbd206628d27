import type { TadaDocumentNode } from 'gql.tada';
import { useContext, useEffect, useRef } from 'react';
import { useQuery } from 'urql';
import { ABOUT_A_PROGRAM } from './api-client.js';
import { type ApiFault, apiFaults } from './api-fault.js';
import { LiveContext } from './live-context.js';

export interface Reading<Data> {
  /** The last answer; undefined until the first has come. */
  readonly data: Data | undefined;
  readonly waiting: boolean;
  readonly faults: ApiFault[];
  readonly again: () => void;
}

/** Asks the server and keeps the answer fresh after each act, of whichever member. `pause` asks nothing yet. */
export function useRead<Data, Variables extends Record<string, unknown>>(
  query: TadaDocumentNode<Data, Variables>,
  variables: Variables,
  pause = false,
): Reading<Data> {
  const [result, execute] = useQuery<Data, Record<string, unknown>>({
    query,
    variables,
    pause,
    context: ABOUT_A_PROGRAM,
  });
  const { revision } = useContext(LiveContext);
  const read = useRef(revision);
  useEffect(() => {
    if (pause || read.current === revision) return;
    read.current = revision;
    execute({ requestPolicy: 'network-only' });
  }, [revision, pause, execute]);
  return {
    data: result.data,
    waiting: result.fetching,
    faults: result.error ? apiFaults(result.error) : [],
    again: () => execute({ requestPolicy: 'network-only' }),
  };
}
