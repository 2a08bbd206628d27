import { sendBytes } from '../../lib/send-bytes.js';

/** Sends a spreadsheet to the program that it is to come into. */
export function sendFile(programId: string, file: File) {
  return sendBytes(`/files/${programId}?name=${encodeURIComponent(file.name)}`, file);
}
