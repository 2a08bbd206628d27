import { z } from 'zod';

const schema = z.object({
  DATABASE_URL: z.string().min(1),
  PORT: z.coerce.number().int().min(0).max(65535).default(4310),
  SCUTEWRIGHT_BIND: z.string().default('0.0.0.0'),
  SCUTEWRIGHT_PUBLIC_URL: z.url().optional(),
  SCUTEWRIGHT_WEB: z.string().optional(),
  SCUTEWRIGHT_BACKUP_FOLDER: z.string().optional(),
  SCUTEWRIGHT_BACKUPS_KEPT: z.coerce.number().int().min(1).max(1000).default(14),
  SCUTEWRIGHT_CERT: z.string().optional(),
  SCUTEWRIGHT_KEY: z.string().optional(),
  SCUTEWRIGHT_AUTHORITY: z.string().optional(),
});

/** What the service is told from outside, checked once at boot. A class, so that it can be asked for by type. */
export abstract class Config {
  /** PostgreSQL, as the non-superuser that owns the tables. */
  abstract readonly databaseUrl: string;
  abstract readonly port: number;
  abstract readonly bind: string;
  /** Address under which members reach it, without trailing slash; null where nobody said. */
  abstract readonly publicUrl: string | null;
  /** Folder of the built web console; null serves the API alone. */
  abstract readonly webFolder: string | null;
  /** Where backups go; null makes none. */
  abstract readonly backupFolder: string | null;
  abstract readonly backupsKept: number;
  /** Paths of the PEM files it speaks HTTPS with; null: plain HTTP, or HTTPS is somebody else's in front of it. */
  abstract readonly certificate: { readonly cert: string; readonly key: string } | null;
  /** Path of the certificate that phones are to trust, where a local authority signed ours. */
  abstract readonly authority: string | null;
}

/** Reads the environment. Throws a sentence that names the variable. */
export function readConfig(env: NodeJS.ProcessEnv): Config {
  const parsed = schema.safeParse(env);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    throw new Error(`${issue.path.join('.')}: ${issue.message}`);
  }
  return {
    databaseUrl: parsed.data.DATABASE_URL,
    port: parsed.data.PORT,
    bind: parsed.data.SCUTEWRIGHT_BIND,
    publicUrl: parsed.data.SCUTEWRIGHT_PUBLIC_URL?.replace(/\/+$/, '') ?? null,
    webFolder: parsed.data.SCUTEWRIGHT_WEB ?? null,
    backupFolder: parsed.data.SCUTEWRIGHT_BACKUP_FOLDER || null,
    backupsKept: parsed.data.SCUTEWRIGHT_BACKUPS_KEPT,
    certificate:
      parsed.data.SCUTEWRIGHT_CERT && parsed.data.SCUTEWRIGHT_KEY
        ? { cert: parsed.data.SCUTEWRIGHT_CERT, key: parsed.data.SCUTEWRIGHT_KEY }
        : null,
    authority: parsed.data.SCUTEWRIGHT_AUTHORITY ?? null,
  };
}
