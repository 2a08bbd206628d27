import type { FileLook } from './import-documents.js';

/** `1 animal`, `60 animals`. */
export const animals = (n: number) => `${n} ${n === 1 ? 'animal' : 'animals'}`;

/** The answer of the page: what the file would do, or what it has done. */
export function FileSentence(props: {
  readonly look: FileLook | null;
  readonly done: FileLook | null;
}) {
  const { look, done } = props;
  if (done) {
    if (!done.commandId) return 'Everything in that file stands in the books already.';
    return (
      <>
        <b>{animals(done.created)}</b> came in new, {done.changed} changed. It is one act, and one
        step takes it back.
      </>
    );
  }
  if (!look) return 'Your spreadsheet is looked at first. Nothing is written until you say so.';
  if (look.isBlocked) {
    const fatal = look.faults.filter((fault) => fault.isFatal).length;
    const cut = look.faults.length < look.faultCount;
    return (
      <>
        <b>
          {cut ? 'At least ' : ''}
          {fatal} {fatal === 1 ? 'fault' : 'faults'}
        </b>{' '}
        in {look.rows} {look.rows === 1 ? 'row' : 'rows'} stand in the way. Nothing is written.
      </>
    );
  }
  if (look.created + look.changed === 0) {
    return 'Everything in this file stands in the books already. There is nothing to write.';
  }
  return (
    <>
      <b>{animals(look.created)}</b> would be new and {look.changed} would change. Nothing is
      written yet.
    </>
  );
}
