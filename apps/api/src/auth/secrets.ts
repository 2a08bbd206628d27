import { createHash, randomBytes } from 'node:crypto';
import { hash, verify } from '@node-rs/argon2';

/** 256 random bits as text: for links and sessions. Only its hash is ever stored. */
export function newSecret(): string {
  return randomBytes(32).toString('base64url');
}

export function secretHash(secret: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(createHash('sha256').update(secret).digest());
}

// argon2id, 19 MiB, 2 passes, 1 lane: OWASP Password Storage Cheat Sheet.
const ARGON = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export function hashPassword(password: string): Promise<string> {
  return hash(password, ARGON);
}

let dummy: Promise<string> | undefined;

/** Takes as long for an account that does not exist as for one that does. */
export async function passwordMatches(
  stored: string | null | undefined,
  password: string,
): Promise<boolean> {
  dummy ??= hashPassword(newSecret());
  const matches = await verify(stored ?? (await dummy), password);
  return matches && stored != null;
}
