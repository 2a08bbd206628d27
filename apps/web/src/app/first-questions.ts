import type { TadaDocumentNode } from 'gql.tada';
import { ViewerQuery } from '../features/account/viewer.js';
import {
  AnimalQuery,
  RegisterCountsQuery,
  RegisterPageQuery,
} from '../features/animals/animal-documents.js';
import { pageVariables, viewOf } from '../features/animals/register-address.js';
import { LineageQuery, reachOf } from '../features/lineage/lineage-documents.js';
import { eggsOf } from '../features/pairings/clutch-size.js';
import { matesVariables } from '../features/pairings/season-address.js';
import { PenConflictsQuery } from '../features/pens/pen-documents.js';
import { buyerOf } from '../features/sales/buyer.js';
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
  const [, programId, place = '', id, second] =
    /^\/programs\/([^/]+)\/([^/]+)(?:\/([^/]+))?(?:\/([^/]+))?$/.exec(path) ?? [];
  if (!path.startsWith('/programs/')) return Promise.resolve();
  const viewer = ask(ViewerQuery, {});
  if (programId === undefined) return patiently(viewer);
  if (place === 'today') ask(TodayQuery, { programId });
  if (place === 'pens') ask(PenConflictsQuery, { programId });
  if (place === 'animals' && id === undefined) {
    // The sentence on top is of the counts: it is what the reader sees first.
    ask(RegisterCountsQuery, { programId });
    ask(RegisterPageQuery, pageVariables(programId, viewOf(params), null));
  }
  if (place === 'animals' && id && id !== 'add' && !second) ask(AnimalQuery, { programId, id });
  if (place === 'lineage' && id) {
    const { back, on } = reachOf(params);
    ask(LineageQuery, { programId, animalId: id, up: Number(back), down: Number(on) });
  }
  if (place === 'pairings' && id) askOfPairing(programId, params, [id, second]);
  if (place === 'sales' && !id) askOfSale(programId, params);
  return patiently(viewer);
}

/**
 * The mates of one animal, or the odds of two; both are asked for by id, and the address holds codes. The documents
 * are many, so they come with the page's own script and burden no other page.
 */
async function askOfPairing(
  programId: string,
  params: URLSearchParams,
  parts: readonly (string | undefined)[],
) {
  const [one = '', two] = parts.map((part) => part && decoded(part));
  const { CrossOddsQuery, MatesQuery, PairByCodeQuery, PairCostQuery, SeekerQuery } = await import(
    '../features/pairings/pairing-documents.js'
  );
  if (two === undefined) {
    const { data } = await ask(SeekerQuery, { programId, code: one });
    if (data?.animal) ask(MatesQuery, matesVariables(programId, data.animal.id, params));
    return;
  }
  const { data } = await ask(PairByCodeQuery, { programId, sire: one, dam: two });
  if (!data?.sire || !data.dam) return;
  // Named the other way round, the page turns them first.
  if (data.sire.sex.sex === 'FEMALE' && data.dam.sex.sex === 'MALE') return;
  const [sireId, damId] = [data.sire.id, data.dam.id];
  ask(PairCostQuery, { programId, sireId, damId });
  ask(CrossOddsQuery, { programId, sireId, damId, eggs: eggsOf(params) });
}

/** As the router reads it: what cannot be decoded stays as it is written. The page then says that nobody is called so. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

async function askOfSale(programId: string, params: URLSearchParams) {
  const { animalIdsOf, SaleCheckQuery } = await import('../features/sales/sale-documents.js');
  const animalIds = animalIdsOf(params);
  if (animalIds.length === 0) return;
  ask(SaleCheckQuery, { programId, animalIds, buyer: buyerOf(location.hash) });
}

function ask<Data, Variables extends Record<string, unknown>>(
  question: TadaDocumentNode<Data, Variables>,
  variables: Variables,
) {
  return firstClient
    .query<Data, Record<string, unknown>>(question, variables, ABOUT_A_PROGRAM)
    .toPromise();
}

function patiently(answer: Promise<unknown>): Promise<unknown> {
  return Promise.race([answer, new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
}
