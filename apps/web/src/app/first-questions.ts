import type { TadaDocumentNode } from 'gql.tada';
import { ViewerQuery } from '../features/account/viewer.js';
import {
  AnimalQuery,
  RegisterCountsQuery,
  RegisterPageQuery,
} from '../features/animals/animal-documents.js';
import { pageVariables, viewOf } from '../features/animals/register-address.js';
import { LineageQuery, reachOf } from '../features/lineage/lineage-documents.js';
import { PenConflictsQuery } from '../features/pens/pen-documents.js';
import { TodayQuery } from '../features/today/today-documents.js';
import { ABOUT_A_PROGRAM, createApiClient } from '../lib/api-client.js';

/** How long the first page waits for who is signed in before it is drawn with an empty frame, in ms. */
const PATIENCE = 1500;

/** The client that holds the answers to the first questions. */
export const firstClient = createApiClient();

/** Resolves when it is known who is signed in, or after `PATIENCE`. */
export const viewerKnown = askFirst(location.pathname, new URLSearchParams(location.search));

/**
 * Asks who is signed in and what the opened page will ask, before React is even evaluated: this
 * module is a script of its own in `index.html`, and imports nothing of React. A page that is not
 * listed here asks by itself, a little later; the answers lie in the cache where `useRead` looks.
 */
function askFirst(path: string, params: URLSearchParams): Promise<unknown> {
  const [, programId, place = '', id] =
    /^\/programs\/([^/]+)\/([^/]+)(?:\/([^/]+))?$/.exec(path) ?? [];
  if (!path.startsWith('/programs/')) return Promise.resolve();
  const viewer = ask(ViewerQuery, {});
  if (programId === undefined) return patiently(viewer);
  if (place === 'today') ask(TodayQuery, { programId });
  if (place === 'pens') ask(PenConflictsQuery, { programId });
  if (place === 'animals' && id === undefined) {
    ask(RegisterPageQuery, pageVariables(programId, viewOf(params), null));
    ask(RegisterCountsQuery, { programId });
  }
  if (place === 'animals' && id && id !== 'add') ask(AnimalQuery, { programId, id });
  if (place === 'lineage' && id) {
    const { back, on } = reachOf(params);
    ask(LineageQuery, { programId, animalId: id, up: Number(back), down: Number(on) });
  }
  return patiently(viewer);
}

function ask<Data, Variables extends Record<string, unknown>>(
  question: TadaDocumentNode<Data, Variables>,
  variables: Variables,
): Promise<unknown> {
  return firstClient
    .query<Data, Record<string, unknown>>(question, variables, ABOUT_A_PROGRAM)
    .toPromise();
}

function patiently(answer: Promise<unknown>): Promise<unknown> {
  return Promise.race([answer, new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
}
