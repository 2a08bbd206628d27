/**
 * What this device keeps for a round without signal, in IndexedDB: who is signed in, a copy of the yard of each program,
 * and the entries not yet answered. Signing out forgets all but the unsent entries, which only their own account sees again.
 */

export interface PhoneAccount {
  readonly accountId: string;
  readonly name: string;
}

export interface EntryAnswer {
  readonly state: 'WRITTEN' | 'DUPLICATE' | 'NEEDS_DECISION';
  readonly sentence: string;
  readonly remarks: readonly string[];
  readonly remedy: string | null;
  /** Of the program once it was written: a copy of an earlier revision does not hold it yet. */
  readonly revision?: number;
}

export interface QueuedEntry {
  /** Order in which the entries were made; set by the store. */
  readonly n: number;
  readonly programId: string;
  readonly accountId: string;
  /** An instant. */
  readonly madeAt: string;
  /** What the queue shows. */
  readonly words: string;
  /** Animals it is about, so that the list can tick them. */
  readonly animals: readonly string[];
  /** As `recordEntries` takes it, its id included. */
  readonly entry: { readonly id: string } & Record<string, unknown>;
  /** A photo that waits with it, as a `data:` address; gone once it is answered. */
  readonly picture?: string;
  /** Sent at least once: it may have arrived though no answer came. */
  readonly isTried: boolean;
  /** Null: not yet sent, or sent and not yet answered. */
  readonly answer: EntryAnswer | null;
}

interface KeptCopy {
  readonly programId: string;
  readonly accountId: string;
  readonly readAt: string;
  readonly copy: unknown;
}

const ANSWERED_KEPT_MS = 24 * 3_600_000;
const tabs = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('phone-store');

let opened: Promise<IDBDatabase> | null = null;

function database(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open('scutewright-phone', 2);
    request.onupgradeneeded = () => {
      const known = request.result.objectStoreNames;
      const make = (name: StoreName, options?: IDBObjectStoreParameters) =>
        known.contains(name) || request.result.createObjectStore(name, options);
      make('account');
      make('copies', { keyPath: 'programId' });
      make('queue', { keyPath: 'n', autoIncrement: true });
      make('pictures');
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  return opened;
}

type StoreName = 'account' | 'copies' | 'queue' | 'pictures';

/** Runs one transaction; resolves once it is safely on the device. */
async function inStore<Result>(
  name: StoreName,
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => IDBRequest<Result> | undefined,
): Promise<Result | undefined> {
  const db = await database();
  return new Promise((resolve, reject) => {
    const transaction = db.transaction(name, mode, { durability: 'strict' });
    const request = work(transaction.objectStore(name));
    transaction.oncomplete = () => {
      if (mode === 'readwrite') tabs?.postMessage(name);
      resolve(request?.result);
    };
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
}

/** Calls back when another tab wrote something; answers how to stop. */
export function onOtherTab(tell: () => void): () => void {
  tabs?.addEventListener('message', tell);
  return () => tabs?.removeEventListener('message', tell);
}

export async function phoneAccount(): Promise<PhoneAccount | null> {
  return (await inStore<PhoneAccount>('account', 'readonly', (store) => store.get('now'))) ?? null;
}

/** Whoever is signed in now. The copies of anybody else are forgotten. */
export async function setPhoneAccount(account: PhoneAccount): Promise<void> {
  const before = await phoneAccount();
  if (before && before.accountId !== account.accountId) await forgetPhone();
  await inStore('account', 'readwrite', (store) => store.put(account, 'now'));
}

/** After signing out: no copy and no answered entry stays; what was not sent waits for its account. */
export async function forgetPhone(): Promise<void> {
  await inStore('account', 'readwrite', (store) => store.clear());
  await inStore('copies', 'readwrite', (store) => store.clear());
  await inStore('pictures', 'readwrite', (store) => store.clear());
  for (const { n, answer } of await allQueued()) if (answer) await dropQueued(n);
}

export async function keepCopy(programId: string, accountId: string, copy: unknown): Promise<void> {
  const kept: KeptCopy = { programId, accountId, readAt: new Date().toISOString(), copy };
  await inStore('copies', 'readwrite', (store) => store.put(kept));
}

/** The copy of a program's yard, if it was kept for this account. */
export async function keptCopy(
  programId: string,
  accountId: string,
): Promise<{ readAt: string; copy: unknown } | null> {
  const kept = await inStore<KeptCopy>('copies', 'readonly', (store) => store.get(programId));
  return kept && kept.accountId === accountId ? kept : null;
}

async function allQueued(): Promise<QueuedEntry[]> {
  return (await inStore<QueuedEntry[]>('queue', 'readonly', (store) => store.getAll())) ?? [];
}

/** The entries of an account in a program, oldest first: those that wait, and those answered within a day. */
export async function queueOf(programId: string, accountId: string): Promise<QueuedEntry[]> {
  const own = (await allQueued()).filter(
    (entry) => entry.programId === programId && entry.accountId === accountId,
  );
  const since = new Date(Date.now() - ANSWERED_KEPT_MS).toISOString();
  return own.filter(({ answer, madeAt }) => !answer || madeAt > since);
}

export async function queueEntry(
  entry: Omit<QueuedEntry, 'n' | 'answer' | 'isTried'>,
): Promise<void> {
  const fresh = { ...entry, isTried: false, answer: null };
  await inStore('queue', 'readwrite', (store) => store.add(fresh));
}

/** Before entries are sent, so that nobody takes back what may have arrived. */
export async function markTried(entries: readonly QueuedEntry[]): Promise<void> {
  await inStore('queue', 'readwrite', (store) => {
    for (const entry of entries) store.put({ ...entry, isTried: true });
    return undefined;
  });
}

export async function answerQueued(
  { picture: _, ...entry }: QueuedEntry,
  answer: EntryAnswer,
): Promise<void> {
  await inStore('queue', 'readwrite', (store) => store.put({ ...entry, answer }));
}

export async function dropQueued(n: number): Promise<void> {
  await inStore('queue', 'readwrite', (store) => {
    store.delete(n);
    return undefined;
  });
}

/** A small picture of an animal for the photo list, as a `data:` address; null where it was never seen here. */
export async function keptPicture(photoId: string): Promise<string | null> {
  return (await inStore<string>('pictures', 'readonly', (store) => store.get(photoId))) ?? null;
}

export async function keepPicture(photoId: string, address: string): Promise<void> {
  await inStore('pictures', 'readwrite', (store) => store.put(address, photoId));
}
