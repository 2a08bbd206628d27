import type { Request, Response } from 'express';
import type { ProgramAccess } from '../db/in-program.js';

/** The account behind a request. */
export interface SignedIn {
  readonly accountId: string;
  readonly sessionHash: Uint8Array<ArrayBuffer>;
}

/** What one request carries: filled by the guard, read by the resolvers. */
export interface RequestContext {
  readonly req: Request;
  readonly res: Response;
  /** Looked up once a request; null for a stranger. */
  signedIn?: Promise<SignedIn | null>;
  /** Rights the guard has checked, by program. */
  readonly rights: Map<string, ProgramAccess>;
}
