import type { TadaDocumentNode } from 'gql.tada';
import type { Client } from 'urql';
import { type ApiFault, apiFaults } from '../../lib/api-fault.js';
import type { VariablesOf } from '../../lib/graphql.js';
import {
  answerQueued,
  type EntryAnswer,
  forgetPhone,
  keepCopy,
  keptCopy,
  markTried,
  type QueuedEntry,
  queueOf,
  setPhoneAccount,
} from '../../lib/phone-store.js';
import { RecordEntries } from '../../lib/record-entries.js';
import { sendBytes } from '../../lib/send-bytes.js';
import { pictureOf } from '../../lib/shrink-picture.js';
import { type RoundCopy, RoundCopyQuery, RoundViewerQuery, SendPhoto } from './round-documents.js';

/** How the last attempt to reach the computer ended. */
export type Signal = 'unknown' | 'sent' | 'no-signal' | 'signed-out' | 'no-member' | 'refused';

const BATCH = 40;
/** An answer that takes longer counts as no signal; the entries are sent again, and written once. */
const PATIENCE_MS = 20_000;

type SentEntries = VariablesOf<typeof RecordEntries>['input']['entries'];

/**
 * Sends what waits, in the order in which it was made, and renews the copy. One tab at a time where the browser has
 * locks; elsewhere two may send the same, which the ids make harmless.
 */
export function syncRound(client: Client, programId: string): Promise<Signal> {
  const work = () => sync(client, programId);
  return navigator.locks ? navigator.locks.request('send-round', work) : work();
}

async function sync(client: Client, programId: string): Promise<Signal> {
  const asked = await ask(client, RoundViewerQuery, {});
  if (!asked.data) return signalOf(asked.faults);
  const { viewer } = asked.data;
  if (!viewer) return 'signed-out';
  const { id: accountId, name } = viewer.account;
  await setPhoneAccount({ accountId, name });
  const membership = viewer.memberships.find(({ program }) => program.id === programId);
  if (!membership) {
    await forgetPhone();
    return 'no-member';
  }
  const waiting = (await queueOf(programId, accountId)).filter(({ answer }) => !answer);
  let { revision } = membership.program;
  for (const batch of batchesOf(waiting)) {
    const sent = batch[0]?.picture
      ? await sendPhoto(client, programId, batch[0])
      : await send(client, programId, batch);
    if (typeof sent === 'string') return sent;
    revision = sent ?? revision;
  }
  const kept = await keptCopy(programId, accountId);
  const copy = kept?.copy as RoundCopy | undefined;
  if (copy?.revision !== revision || copy.day !== localDay()) {
    const read = await ask(client, RoundCopyQuery, { programId });
    if (!read.data) return signalOf(read.faults);
    await keepCopy(programId, accountId, read.data.roundCopy);
  }
  return 'sent';
}

/** In their order; a photo goes by itself, because its bytes go before it. */
function batchesOf(waiting: readonly QueuedEntry[]): QueuedEntry[][] {
  const batches: QueuedEntry[][] = [];
  for (const entry of waiting) {
    const last = batches.at(-1);
    const isFull = !last || last.length === BATCH || last[0]?.picture || entry.picture;
    if (isFull) batches.push([entry]);
    else last.push(entry);
  }
  return batches;
}

/** Sends a photo, under its entry's id: sent twice it is kept once. Answers the revision afterwards; null where it was refused. */
async function sendPhoto(
  client: Client,
  programId: string,
  entry: QueuedEntry,
): Promise<number | null | Exclude<Signal, 'sent'>> {
  const { id, on, photo } = entry.entry as {
    id: string;
    on: string;
    photo: { animal: string; caption: string | null };
  };
  const refused = async ({ message, remedy }: ApiFault) => {
    const answer = { state: 'NEEDS_DECISION', sentence: message, remarks: [] } as const;
    await answerQueued(entry, { ...answer, remedy: remedy ?? null });
    return null;
  };
  // A photo that the computer cannot take now must not hold up the entries behind it.
  const later = (faults: readonly ApiFault[]) => {
    const signal = signalOf(faults);
    return signal === 'refused' ? null : signal;
  };
  await markTried([entry]);
  const sent = await sendBytes(
    `/files/${programId}?name=${id}.jpg`,
    pictureOf(entry.picture ?? '', `${id}.jpg`),
  );
  if ('faults' in sent) {
    const [fault] = sent.faults;
    return fault?.code === 'BAD_USER_INPUT' ? refused(fault) : later(sent.faults);
  }
  const input = {
    commandId: id,
    uploadId: sent.uploadId,
    animalId: photo.animal,
    date: on,
    caption: photo.caption,
  };
  const { data, faults } = await ask(client, SendPhoto, { programId, input }, true);
  const [fault] = faults;
  if (!data) {
    const isTheirs = fault && ['BAD_USER_INPUT', 'NOT_FOUND', 'CONFLICT'].includes(fault.code);
    return isTheirs ? refused(fault) : later(faults);
  }
  const { command, program } = data.addPhoto;
  const { revision } = program;
  const answer = {
    state: 'WRITTEN',
    sentence: command.sentence,
    remarks: [],
    remedy: null,
  } as const;
  await answerQueued(entry, { ...answer, revision });
  return revision;
}

/** Sends some entries; answers the revision afterwards, or why it cannot go on. */
async function send(
  client: Client,
  programId: string,
  entries: readonly QueuedEntry[],
): Promise<number | Exclude<Signal, 'sent'>> {
  const input = {
    entries: entries.map(({ entry }) => entry) as unknown as SentEntries,
    keepUndecided: true,
  };
  await markTried(entries);
  const { data, faults } = await ask(client, RecordEntries, { programId, input }, true);
  if (data) {
    const { answers, program } = data.recordEntries;
    for (const answer of answers) {
      const entry = entries.find((each) => each.entry.id === answer.id);
      if (entry)
        await answerQueued(entry, { ...(answer as EntryAnswer), revision: program.revision });
    }
    return program.revision;
  }
  const [fault] = faults;
  if (fault?.code !== 'BAD_USER_INPUT') return signalOf(faults);
  // One entry is not as it should be: it must not hold up the others, and what it says stays on the phone.
  const at = Number(/entries\.(\d+)/.exec(fault.place ?? '')?.[1] ?? 0);
  const broken = entries[at]!;
  await answerQueued(broken, {
    state: 'NEEDS_DECISION',
    sentence: fault.message,
    remarks: [],
    remedy: fault.remedy ?? null,
  });
  const others = entries.filter((entry) => entry !== broken);
  if (others.length > 0) return send(client, programId, others);
  return -1;
}

function signalOf(faults: readonly ApiFault[]): Exclude<Signal, 'sent'> {
  const code = faults[0]?.code;
  if (code === 'UNREACHABLE') return 'no-signal';
  if (code === 'NOT_SIGNED_IN') return 'signed-out';
  return code === 'NOT_FOUND' || code === 'FORBIDDEN' ? 'no-member' : 'refused';
}

const TOO_LATE: ApiFault = { code: 'UNREACHABLE', message: 'The server did not answer in time.' };

async function ask<Data, Variables extends Record<string, unknown>>(
  client: Client,
  document: TadaDocumentNode<Data, Variables>,
  variables: Variables,
  isAct = false,
): Promise<{ data?: Data; faults: readonly ApiFault[] }> {
  const context = { requestPolicy: 'network-only' as const };
  const request = isAct
    ? client.mutation(document, variables, context)
    : client.query(document, variables, context);
  const late = new Promise<null>((resolve) => setTimeout(() => resolve(null), PATIENCE_MS));
  const result = await Promise.race([request.toPromise(), late]);
  if (!result) return { faults: [TOO_LATE] };
  return result.error ? { faults: apiFaults(result.error) } : { data: result.data, faults: [] };
}

/** Today on this device, YYYY-MM-DD. */
export function localDay(): string {
  const now = new Date();
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
