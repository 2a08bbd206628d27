import { writeProgramFile } from '@scutewright/commands';
import type { Database } from '../../db/database.js';
import { type ProgramAccess, readProgram } from '../../db/in-program.js';
import { readKnownProgram } from './read-known-program.js';

/** The animals of a program as a program file, by code. */
export async function exportText(
  database: Database,
  right: ProgramAccess,
  formulaSafe: boolean,
): Promise<string> {
  const { animals } = await readProgram(database, right, readKnownProgram);
  return writeProgramFile(animals, { formulaSafe });
}
