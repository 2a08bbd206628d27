/** An animal's code, and its name where it has one. A code never breaks at its hyphen. */
export function Code(props: { readonly code: string; readonly name?: string | null }) {
  return (
    <>
      <span className="code">{props.code}</span>
      {props.name ? ` ${props.name}` : ''}
    </>
  );
}
