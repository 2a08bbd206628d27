import { networkInterfaces } from 'node:os';
import { Injectable } from '@nestjs/common';
import { Config } from '../config.js';

/** Under which addresses the service answers, and what its links look like. */
@Injectable()
export class PublicAddress {
  constructor(private readonly config: Config) {}

  /** Without trailing slash. */
  get base(): string {
    const scheme = this.config.certificate ? 'https' : 'http';
    return this.config.publicUrl ?? `${scheme}://localhost:${this.config.port}`;
  }

  /** Whether it will stay on HTTPS: browsers may be told so only for a name that somebody settled. */
  get staysOnHttps(): boolean {
    return this.config.publicUrl?.startsWith('https:') ?? false;
  }

  /** A one-time link. The secret stands behind #, so that no server log ever holds it. */
  enterLink(secret: string): string {
    return `${this.base}/enter#token=${secret}`;
  }

  /**
   * Host names a request may be addressed to: the public one, or without one this machine's
   * own. Anything else is a page elsewhere that had its name point here (DNS rebinding).
   */
  hostNames(): Set<string> {
    const own = ['localhost', '127.0.0.1', '[::1]'];
    if (this.config.publicUrl) return new Set([...own, new URL(this.config.publicUrl).hostname]);
    const addresses = Object.values(networkInterfaces())
      .flatMap((list) => list ?? [])
      .map(({ address, family }) => (family === 'IPv6' ? `[${address.split('%')[0]}]` : address));
    return new Set([...own, ...addresses]);
  }
}
