import {
  type Client,
  cacheExchange,
  createClient,
  fetchExchange,
  makeOperation,
  mapExchange,
} from '@urql/core';
import { requestPolicyExchange } from '@urql/exchange-request-policy';

/** For so long an answer is not asked for again by another part of the page; what members write is heard at once all the same. */
const FRESH_MS = 10_000;

/**
 * Every act answers with its program, and every read is counted among the answers about a
 * program; so each act makes every page read anew, and no page lists what an act may touch.
 */
export const ABOUT_A_PROGRAM = { additionalTypenames: ['Program'] };

/*
 * The cache asks for the type of every object. What it learns of a read is told by ABOUT_A_PROGRAM already, and a long list
 * would carry its type thousands of times: a read goes out as it was written.
 */
const keepAsWritten = mapExchange({
  onOperation: (operation) =>
    makeOperation(operation.kind, operation, { ...operation.context, asWritten: operation.query }),
});
const sendAsWritten = mapExchange({
  onOperation: (operation) =>
    operation.kind === 'query'
      ? makeOperation(
          operation.kind,
          { ...operation, query: operation.context.asWritten },
          operation.context,
        )
      : operation,
});

/**
 * A client of our own server. The session is a cookie the script cannot read; nothing secret
 * is kept here. Make a new one when another person signs in, so that no answer outlives them.
 */
export function createApiClient(): Client {
  return createClient({
    url: '/graphql',
    preferGetMethod: false,
    requestPolicy: 'cache-first',
    exchanges: [
      requestPolicyExchange({ ttl: FRESH_MS }),
      keepAsWritten,
      cacheExchange,
      sendAsWritten,
      fetchExchange,
    ],
  });
}
