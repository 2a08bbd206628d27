import { initGraphQLTada } from 'gql.tada';
import type { introspection } from '../generated/introspection.js';

/** A value as JSON holds it. */
export type JsonValue =
  | string
  | number
  | boolean
  | null
  | JsonValue[]
  | { [key: string]: JsonValue };

/**
 * Turns a GraphQL text into a typed document. Types come from `apps/api/schema.graphql`
 * through `npm run generate -w apps/web`; the bundle itself needs no generated file.
 */
export const graphql = initGraphQLTada<{
  introspection: introspection;
  scalars: { DateTime: string; Json: JsonValue };
}>();

export type { ResultOf, VariablesOf } from 'gql.tada';
