import type { ApiFault } from './api-fault.js';

/**
 * Sends a file's bytes as they are to one of the server's addresses; the server keeps them for a
 * day. Answers the upload's id, or why it was refused.
 */
export async function sendBytes(
  address: string,
  file: File,
): Promise<{ readonly uploadId: string } | { readonly faults: ApiFault[] }> {
  let answer: Response;
  try {
    answer = await fetch(address, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: file,
    });
  } catch {
    // No answer, or a file that can no longer be read: saved anew since it was chosen.
    return {
      faults: [
        {
          code: 'UNREACHABLE',
          message: 'The file could not be sent.',
          remedy:
            'See that the server runs; if you saved the file since you chose it, choose it again.',
        },
      ],
    };
  }
  const body = (await answer.json().catch(() => ({}))) as {
    uploadId?: string;
    message?: string;
    code?: string;
    remedy?: string;
  };
  if (answer.ok && body.uploadId) return { uploadId: body.uploadId };
  return {
    faults: [
      {
        code: body.code ?? 'INTERNAL',
        message: body.message ?? 'The server refused the file.',
        remedy: body.remedy,
      },
    ],
  };
}
