import type { Tx } from '../../db/database.js';

/** The rows that a new program begins with. Inside the command that makes it. */
export async function makeProgram(
  tx: Tx,
  program: { programId: string; name: string; ownerId: string; isDemo?: boolean },
): Promise<void> {
  const { programId, name, ownerId, isDemo = false } = program;
  await tx.$executeRaw`
    INSERT INTO program (id, name, is_demo) VALUES (${programId}::uuid, ${name}, ${isDemo})`;
  await tx.member.create({ data: { programId, accountId: ownerId, role: 'OWNER' } });
}
