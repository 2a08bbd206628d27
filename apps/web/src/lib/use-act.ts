import type { TadaDocumentNode } from 'gql.tada';
import { useContext, useRef } from 'react';
import { useMutation } from 'urql';
import { type ApiFault, apiFaults } from './api-fault.js';
import { newCommandId } from './command-id.js';
import { LiveContext } from './live-context.js';

export type Outcome<Data> =
  | { readonly done: true; readonly data: Data }
  | { readonly done: false; readonly faults: ApiFault[] };

/**
 * Sends an act. `variables` is given the command's id, which stays the same while the same
 * content is sent: after a lost answer, sending again counts once. Changed content is a new act.
 */
export function useAct<Data, Variables extends Record<string, unknown>>(
  mutation: TadaDocumentNode<Data, Variables>,
) {
  const [state, execute] = useMutation<Data, Record<string, unknown>>(mutation);
  const { wrote } = useContext(LiveContext);
  const unanswered = useRef<{ content: string; commandId: string } | null>(null);
  const run = async (variables: (commandId: string) => Variables): Promise<Outcome<Data>> => {
    const content = JSON.stringify(variables(''));
    if (unanswered.current?.content !== content) {
      unanswered.current = { content, commandId: newCommandId() };
    }
    const result = await execute(variables(unanswered.current.commandId));
    const faults = result.error ? apiFaults(result.error) : [];
    if (faults[0]?.code !== 'UNREACHABLE') unanswered.current = null;
    if (result.error) return { done: false, faults };
    const data = result.data as Data;
    const revision = revisionOf(data);
    if (revision !== null) wrote(revision);
    return { done: true, data };
  };
  return { run, running: state.fetching };
}

/** The revision of the program that an act answers with; null for an act outside programs. */
function revisionOf(data: unknown): number | null {
  const [payload] = Object.values(data ?? {}) as { program?: { revision?: number } | null }[];
  return payload?.program?.revision ?? null;
}
