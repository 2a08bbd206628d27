/**
 * The certificate that the service speaks HTTPS with. Phones open pages without signal, and the camera, over HTTPS only.
 * Either files of the user's own, or a local authority kept in the data folder that phones are told to trust once.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname, networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { StartFailure } from './home.mjs';

const DAY_MS = 86_400_000;
/** Phones refuse certificates that hold longer than 825 days, also those of an authority of one's own (Apple support page HT210176). */
const LEAF_DAYS = 820;
const AUTHORITY_DAYS = 3650;

/**
 * The environment that tells the service of its certificate; empty for plain HTTP.
 * `SCUTEWRIGHT_CERT` and `SCUTEWRIGHT_KEY` name PEM files; `SCUTEWRIGHT_HTTPS=local` makes them.
 */
export async function certificateSettings(home) {
  const { SCUTEWRIGHT_CERT: cert, SCUTEWRIGHT_KEY: key, SCUTEWRIGHT_HTTPS: https } = process.env;
  if (cert || key) {
    for (const [name, path] of Object.entries({ SCUTEWRIGHT_CERT: cert, SCUTEWRIGHT_KEY: key })) {
      if (!path || !existsSync(path)) {
        throw new StartFailure(
          `${name} ${path ? `names ${path}, which is not there` : 'is missing'}. Give both SCUTEWRIGHT_CERT and SCUTEWRIGHT_KEY, each the path of a PEM file.`,
        );
      }
    }
    return { SCUTEWRIGHT_CERT: cert, SCUTEWRIGHT_KEY: key };
  }
  if (!https) return {};
  if (https !== 'local') {
    throw new StartFailure(
      `SCUTEWRIGHT_HTTPS can only be 'local', not '${https}'. For a certificate of your own set SCUTEWRIGHT_CERT and SCUTEWRIGHT_KEY.`,
    );
  }
  return makeLocal(join(home, 'https'));
}

async function makeLocal(folder) {
  const { generate } = await import('selfsigned').then((module) => module.default ?? module);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const path = (name) => join(folder, name);
  if (!existsSync(path('authority.crt'))) {
    const name = [{ name: 'commonName', value: `Scutewright on ${hostname()}` }];
    const authority = await generate(name, {
      keyType: 'ec',
      algorithm: 'sha256',
      notBeforeDate: new Date(Date.now() - DAY_MS),
      notAfterDate: new Date(Date.now() + AUTHORITY_DAYS * DAY_MS),
      extensions: [
        { name: 'basicConstraints', cA: true, pathLenConstraint: 0, critical: true },
        { name: 'keyUsage', keyCertSign: true, cRLSign: true, critical: true },
      ],
    });
    writeFileSync(path('authority.key'), authority.private, { mode: 0o600 });
    writeFileSync(path('authority.crt'), authority.cert);
  }
  // A new one at each start: the addresses of this machine may have changed.
  const leaf = await generate([{ name: 'commonName', value: 'Scutewright' }], {
    keyType: 'ec',
    algorithm: 'sha256',
    // A phone whose clock is a little slow must take it too.
    notBeforeDate: new Date(Date.now() - DAY_MS),
    notAfterDate: new Date(Date.now() + LEAF_DAYS * DAY_MS),
    ca: {
      key: readFileSync(path('authority.key'), 'utf8'),
      cert: readFileSync(path('authority.crt'), 'utf8'),
    },
    extensions: [
      { name: 'basicConstraints', cA: false },
      { name: 'keyUsage', digitalSignature: true, critical: true },
      { name: 'extKeyUsage', serverAuth: true },
      { name: 'subjectAltName', altNames: ownNames() },
    ],
  });
  writeFileSync(path('service.key'), leaf.private, { mode: 0o600 });
  writeFileSync(path('service.crt'), leaf.cert);
  return {
    SCUTEWRIGHT_CERT: path('service.crt'),
    SCUTEWRIGHT_KEY: path('service.key'),
    SCUTEWRIGHT_AUTHORITY: path('authority.crt'),
  };
}

/** Names and addresses under which this machine may be called. */
function ownNames() {
  const told = process.env.SCUTEWRIGHT_PUBLIC_URL;
  const names = new Set(['localhost', hostname(), `${hostname().split('.')[0]}.local`]);
  const addresses = new Set(['127.0.0.1']);
  for (const { family, address } of Object.values(networkInterfaces()).flat()) {
    if (family === 'IPv4') addresses.add(address);
  }
  if (told) {
    const host = new URL(told).hostname;
    (/^[\d.]+$/.test(host) ? addresses : names).add(host);
  }
  return [
    ...[...names].map((value) => ({ type: 2, value })),
    ...[...addresses].map((ip) => ({ type: 7, ip })),
  ];
}
