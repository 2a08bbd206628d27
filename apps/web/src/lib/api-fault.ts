import type { CombinedError } from 'urql';

/** Why a request was refused, in words for the reader. */
export interface ApiFault {
  /** From the server's list, or `UNREACHABLE` when no answer came. */
  readonly code: string;
  readonly message: string;
  /** What to do about it. */
  readonly remedy?: string;
  /** Dotted path of the input at fault: `input.sires.0.animalId`. */
  readonly place?: string;
}

const text = (value: unknown): string | undefined =>
  typeof value === 'string' ? value : undefined;

/** The faults of a failed request, in the server's order; never empty. */
export function apiFaults(error: CombinedError): ApiFault[] {
  if (error.graphQLErrors.length === 0) {
    return [
      {
        code: 'UNREACHABLE',
        message: 'The server did not answer.',
        remedy: 'See that it runs and that this device can reach it, then try again.',
      },
    ];
  }
  return error.graphQLErrors.map((one) => ({
    code: text(one.extensions.code) ?? 'INTERNAL',
    message: one.message,
    remedy: text(one.extensions.remedy),
    place: text(one.extensions.place),
  }));
}
