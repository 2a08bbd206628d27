import {
  answerQuestion,
  answerRows,
  type ColumnMap,
  type Correction,
  checkProgramFile,
  EncodingGuess,
  type FileFault,
  type ImportAnswer,
  type ImportPlan,
  type ImportQuestion,
  type KnownProgram,
  mendFile,
  type ProgramFile,
  ProgramFileReader,
  readProgramFile,
} from '@scutewright/commands';

export interface ProgramFileInput extends Asked {
  readonly bytes: Uint8Array;
}

/** What a program file is compared with, and what people said of it. */
export interface Asked {
  readonly known: KnownProgram;
  /** What the caller says of how it is read; the rest is as such a file was read last, else proposed. */
  readonly map: Partial<ColumnMap> | undefined;
  readonly kept?: readonly KeptReading[];
  readonly answers?: readonly ImportAnswer[];
  readonly corrections?: readonly Correction[];
  /** Whole days since 1970-01-01. */
  readonly today: number;
}

/** How a file came in before. */
export interface KeptReading {
  readonly map: ColumnMap;
  /** ISO 8601. */
  readonly at: string;
}

export interface ProgramFileAnswer {
  readonly rowCount: number;
  readonly map: ColumnMap;
  readonly guesses: readonly string[];
  /** By column of the map: its first cell that is not empty. */
  readonly examples: readonly string[];
  readonly faults: readonly FileFault[];
  readonly faultCount: number;
  readonly isBlocked: boolean;
  readonly plan: ImportPlan;
  /** What would be made, each as proposed or as its answer says. */
  readonly questions: readonly ImportQuestion[];
  /** What the answers take for something known or leave out. */
  readonly answered: readonly ImportQuestion[];
  /** Cells that look guarded against formulas while the map does not say so. */
  readonly guardedCells: number;
  /** Names of what the program has. */
  readonly known: Readonly<Record<'traits' | 'loci' | 'pens' | 'species', readonly string[]>>;
}

/** Reads a program file and compares it with itself and with what the program holds. */
export function programFileTask(input: ProgramFileInput): ProgramFileAnswer {
  const { bytes, map, corrections, kept = [] } = input;
  const last = lastReading(bytes.subarray(0, HEAD_BYTES), kept);
  const file = readProgramFile(bytes, { map: { ...last?.map, ...map }, corrections });
  return compare(file, last, input);
}

/**
 * The same for a large file that comes in pieces, asked for twice from its beginning; on the thread of the caller.
 * `onPiece` hears the bytes read of the `2 * size` in all.
 */
export async function programFileInPieces(
  pieces: () => AsyncIterable<Uint8Array>,
  size: number,
  asked: Asked,
  onPiece: (read: number) => void,
): Promise<ProgramFileAnswer> {
  const guess = new EncodingGuess();
  let head = new Uint8Array();
  let read = 0;
  for await (const piece of pieces()) {
    if (read === 0) head = piece.slice(0, HEAD_BYTES);
    guess.push(piece);
    read += piece.length;
    onPiece(read);
  }
  const last = lastReading(head, asked.kept ?? []);
  const { corrections } = asked;
  const map = { ...last?.map, ...asked.map };
  const reader = new ProgramFileReader(guess, size, { map, corrections });
  for await (const piece of pieces()) {
    read += piece.length;
    reader.push(piece, read === 2 * size);
    onPiece(read);
  }
  return compare(reader.file(), last, asked);
}

/** The text of the file with the corrections in it. */
export function mendFileTask(input: ProgramFileInput): string {
  const { bytes, map, corrections = [], kept = [] } = input;
  const last = lastReading(bytes.subarray(0, HEAD_BYTES), kept);
  const file = readProgramFile(bytes, { map: { ...last?.map, ...map } });
  return mendFile(bytes, file.map, corrections);
}

function compare(file: ProgramFile, last: LastReading | null, asked: Asked): ProgramFileAnswer {
  const { known, answers = [], today } = asked;
  const rows = answerRows(file.rows, answers);
  const checked = checkProgramFile({ ...file, rows }, known, { today });
  const unanswered = rows === file.rows ? checked : checkProgramFile(file, known, { today });
  const isSettled = (question: ImportQuestion) =>
    question.kind !== 'NO_SPECIES' &&
    answers.some(
      ({ kind, name, act }) => kind === question.kind && name === question.name && act !== 'MAKE',
    );
  return {
    rowCount: file.rows.length,
    map: file.map,
    guesses: last
      ? [`Columns, dates and words are read as on ${last.at.slice(0, 10)}.`, ...file.guesses]
      : file.guesses,
    examples: file.examples,
    faults: checked.faults,
    faultCount: [...checked.counts.values()].reduce((sum, count) => sum + count, 0),
    isBlocked: checked.isBlocked,
    plan: checked.plan,
    questions: checked.questions.map((question) => answerQuestion(question, answers)),
    answered: unanswered.questions.filter(isSettled),
    guardedCells: file.guardedCells,
    known: {
      traits: known.traits,
      loci: known.loci.map(({ id }) => id),
      pens: known.pens,
      species: known.species,
    },
  };
}

interface LastReading {
  readonly map: Partial<ColumnMap>;
  readonly at: string;
}

/** Enough of a file to see its headings. */
const HEAD_BYTES = 65_536;

/** How the file of most shared headings was read, if these are more than half of all; the newest of several. */
function lastReading(bytes: Uint8Array, kept: readonly KeptReading[]): LastReading | null {
  if (kept.length === 0) return null;
  const head = readProgramFile(bytes).map;
  const headings = new Set(head.columns.map(({ heading }) => heading));
  let best: KeptReading | null = null;
  let most = 0;
  for (const reading of kept) {
    const { columns, format } = reading.map;
    if (format !== head.format) continue;
    const shared = columns.filter(({ heading }) => headings.has(heading)).length;
    const all = Math.max(columns.length, headings.size);
    if (shared * 2 <= all || shared < most) continue;
    if (shared > most || !best || reading.at > best.at) best = reading;
    most = shared;
  }
  if (!best) return null;
  // Encoding and separator are seen in each file anew.
  const { encoding: _, separator: __, ...map } = best.map;
  return { map, at: best.at };
}
