import { useCallback, useEffect, useRef, useState } from 'react';
import { useClient } from 'urql';
import { newCommandId } from '../../lib/command-id.js';
import {
  dropQueued,
  keptCopy,
  onOtherTab,
  type PhoneAccount,
  phoneAccount,
  type QueuedEntry,
  queueEntry,
  queueOf,
} from '../../lib/phone-store.js';
import { type RoundCopy, TakeBackEntry } from './round-documents.js';
import { type Signal, syncRound } from './sync-round.js';

/** What waits is tried again after so long, while the page is in sight. */
const AGAIN_MS = 15_000;
/** Of the set of yard entries this page was made for. */
const ENTRY_VERSION = 1;

export interface NewEntry {
  readonly words: string;
  readonly animals: readonly string[];
  /** When it happened, YYYY-MM-DD. */
  readonly on: string;
  readonly note?: string;
  /** One kind with what it holds. */
  readonly says: Record<string, unknown>;
  /** A photo that goes with it, as a `data:` address. */
  readonly picture?: string;
}

export interface Round {
  /** False until the device's own store was read. */
  readonly isRead: boolean;
  readonly account: PhoneAccount | null;
  readonly copy: RoundCopy | null;
  readonly queue: readonly QueuedEntry[];
  readonly signal: Signal;
  readonly isSending: boolean;
  /** Why this device cannot keep anything; null where it can. */
  readonly storeFault: string | null;
  readonly write: (entry: NewEntry) => Promise<void>;
  readonly takeBack: (entry: QueuedEntry) => Promise<string | null>;
  readonly sendNow: () => void;
}

/** The round of a program on this device: works from the kept copy, and sends when it can. */
export function useRound(programId: string): Round {
  const client = useClient();
  const [kept, setKept] = useState<Pick<Round, 'isRead' | 'account' | 'copy' | 'queue'>>({
    isRead: false,
    account: null,
    copy: null,
    queue: [],
  });
  const [signal, setSignal] = useState<Signal>('unknown');
  const [isSending, setIsSending] = useState(false);
  const [storeFault, setStoreFault] = useState<string | null>(null);
  const running = useRef(false);
  const wanted = useRef(false);

  const read = useCallback(async () => {
    const account = await phoneAccount();
    const copy = account && (await keptCopy(programId, account.accountId));
    const queue = account ? await queueOf(programId, account.accountId) : [];
    setKept({ isRead: true, account, copy: (copy?.copy as RoundCopy) ?? null, queue });
  }, [programId]);

  const sendNow = useCallback(async () => {
    wanted.current = true;
    if (running.current) return;
    running.current = true;
    setIsSending(true);
    try {
      while (wanted.current) {
        wanted.current = false;
        setSignal(await syncRound(client, programId));
        await read();
      }
    } catch (error) {
      setStoreFault(error instanceof Error ? error.message : String(error));
    } finally {
      running.current = false;
      setIsSending(false);
    }
  }, [client, programId, read]);

  useEffect(() => {
    read().catch((error) => setStoreFault(String(error)));
    sendNow();
    const back = () => !document.hidden && sendNow();
    window.addEventListener('online', back);
    document.addEventListener('visibilitychange', back);
    const timer = setInterval(back, AGAIN_MS);
    const unlisten = onOtherTab(() => read());
    return () => {
      window.removeEventListener('online', back);
      document.removeEventListener('visibilitychange', back);
      clearInterval(timer);
      unlisten();
    };
  }, [read, sendNow]);

  const write = async ({ words, animals, on, note, says, picture }: NewEntry) => {
    if (!kept.account) return;
    const entry = { id: newCommandId(), version: ENTRY_VERSION, on, note: note || null, ...says };
    const { accountId } = kept.account;
    const madeAt = new Date().toISOString();
    try {
      await queueEntry({ programId, accountId, madeAt, words, animals, entry, picture });
      await read();
      sendNow();
    } catch (error) {
      setStoreFault(error instanceof Error ? error.message : String(error));
      throw error;
    }
  };

  /** Takes an entry back, or only hides one that waits in the inbox; answers why not, where it cannot be. */
  const takeBack = async (entry: QueuedEntry): Promise<string | null> => {
    if (entry.answer?.state === 'WRITTEN' || entry.answer?.state === 'DUPLICATE') {
      const input = { commandId: newCommandId(), undoes: entry.entry.id };
      const result = await client.mutation(TakeBackEntry, { programId, input }).toPromise();
      if (result.error) return result.error.graphQLErrors[0]?.message ?? 'No signal: try later.';
    } else if (!entry.answer && entry.isTried) {
      return 'It was sent and may have arrived. Take it back once its answer is here.';
    }
    await dropQueued(entry.n);
    await read();
    sendNow();
    return null;
  };

  return { ...kept, signal, isSending, storeFault, write, takeBack, sendNow };
}
