import { registerEnumType } from '@nestjs/graphql';
import { GraphQLError } from 'graphql';

/** Every code an error of this API can carry, and what the caller should do about it. */
export const ERROR_CODES = {
  BAD_USER_INPUT: 'Correct the value that `place` names',
  NOT_SIGNED_IN: 'Sign in first',
  FORBIDDEN: 'Ask an owner of the program for the right to do this',
  NOT_FOUND: 'Look the thing up again: it is not there, or not yours to see',
  CODE_TAKEN: 'Choose another code, or edit the thing that has it',
  CONFLICT: 'Look at the present state and decide again',
  TOO_MANY_ATTEMPTS: 'Wait for the time that the remedy names',
  LINK_USED_OR_EXPIRED: 'Have a new one-time link made',
  TOO_COMPLEX: 'Ask for less at once',
  INTERNAL: 'Our fault; the reference finds it in the log of the service',
} as const;
export type ErrorCode = keyof typeof ERROR_CODES;

/** The same list for readers of the schema: values of `extensions.code`. */
export const ErrorCodeEnum = Object.fromEntries(
  Object.keys(ERROR_CODES).map((code) => [code, code]),
) as Record<ErrorCode, ErrorCode>;
registerEnumType(ErrorCodeEnum, {
  name: 'ErrorCode',
  description: 'Every code that extensions.code of an error can have',
  valuesMap: Object.fromEntries(
    Object.entries(ERROR_CODES).map(([code, remedy]) => [code, { description: remedy }]),
  ),
});

interface Where {
  /** What it is about, e.g. the code of an animal. */
  readonly thing?: string;
  /** Path of the value in the request, e.g. `input.sires.0.animalId`. */
  readonly place?: string;
  /** What to do, one sentence. */
  readonly remedy: string;
}

/** A fault of the caller's: names the thing, the place and the remedy. */
export class UserError extends GraphQLError {
  constructor(code: Exclude<ErrorCode, 'INTERNAL'>, message: string, where: Where) {
    super(message, { extensions: { code, ...where } });
  }
}

export function notFound(what: string, place: string, remedy: string): UserError {
  return new UserError('NOT_FOUND', `There is no ${what} here.`, { place, remedy });
}
