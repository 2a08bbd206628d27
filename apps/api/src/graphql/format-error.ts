import { randomUUID } from 'node:crypto';
import { unwrapResolverError } from '@apollo/server/errors';
import { Logger } from '@nestjs/common';
import { GraphQLError, type GraphQLFormattedError } from 'graphql';
import { UserError } from './errors.js';

const log = new Logger('GraphQL');

// Codes of the GraphQL layer itself, in the words of our own list.
const STANDARD: Record<string, string> = {
  GRAPHQL_PARSE_FAILED: 'BAD_USER_INPUT',
  GRAPHQL_VALIDATION_FAILED: 'BAD_USER_INPUT',
  BAD_USER_INPUT: 'BAD_USER_INPUT',
  BAD_REQUEST: 'BAD_USER_INPUT',
};

/**
 * The one place where errors become what a caller sees: a caller's fault with its thing,
 * place and remedy; ours as INTERNAL with a reference to the log, without any inner detail.
 */
export function formatError(formatted: GraphQLFormattedError, raw: unknown): GraphQLFormattedError {
  const error = unwrapResolverError(raw);
  const { message, locations, path } = formatted;
  if (error instanceof UserError) return { message, path, extensions: error.extensions };
  const given = formatted.extensions?.code;
  const code = formatted.extensions?.isTooComplex
    ? 'TOO_COMPLEX'
    : (STANDARD[String(given)] ?? given);
  if (error instanceof GraphQLError && (code === 'BAD_USER_INPUT' || code === 'TOO_COMPLEX')) {
    const remedy = formatted.extensions?.remedy ?? 'Correct the request by the schema of this API.';
    return { message, locations, path, extensions: { code, remedy } };
  }
  // PostgreSQL's code for a full disk.
  const isFull = error instanceof Error && error.message.includes('53100');
  const reference = randomUUID().slice(0, 8);
  log.error(`${reference}: ${error instanceof Error ? (error.stack ?? error.message) : error}`);
  return {
    message: isFull
      ? 'The disk of the service is full, so nothing more can be saved; what was saved is safe.'
      : 'Something went wrong on our side.',
    path,
    extensions: {
      code: 'INTERNAL',
      remedy: isFull
        ? 'Free some space on the computer that runs it, then send this again.'
        : `Send it again: an act sent twice is done once. If it fails again, look for ${reference} in the log of the service.`,
    },
  };
}
