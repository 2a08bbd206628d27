import { type Client, cacheExchange, createClient, fetchExchange } from 'urql';

/**
 * A client of our own server. The session is a cookie the script cannot read; nothing secret
 * is kept here. Make a new one when another person signs in, so that no answer outlives them.
 */
export function createApiClient(): Client {
  return createClient({
    url: '/graphql',
    preferGetMethod: false,
    requestPolicy: 'cache-and-network',
    exchanges: [cacheExchange, fetchExchange],
  });
}
