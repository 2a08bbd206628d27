import type { Told } from './start-documents.js';

/** What was told, as it stands in the books; taken back on the History page or by Undo right after. */
export function ToldLines(props: { readonly told: Told; readonly kinds: readonly string[] }) {
  const lines = props.told.history.edges
    .map(({ node }) => node)
    .filter(({ kind, undone }) => props.kinds.includes(kind) && !undone)
    .reverse();
  if (lines.length === 0) return null;
  return (
    <ul className="rows told">
      {lines.map(({ id, sentence }) => (
        <li key={id}>{sentence}</li>
      ))}
    </ul>
  );
}
