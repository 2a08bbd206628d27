/** What is wrong with an archive, in words: which file, where in it, what to do. */
export class ArchiveFault extends Error {
  constructor(
    message: string,
    readonly remedy = 'Use another copy of the archive. Nothing was written.',
  ) {
    super(message);
  }
}
