import { WhyDrawer } from './why-drawer.js';

/** What an answer takes for granted, each in a sentence. Nothing where nothing is assumed. */
export function Assumed(props: { readonly of: string; readonly lines: readonly string[] }) {
  if (props.lines.length === 0) return null;
  return (
    <WhyDrawer of={props.of} label="What is taken for granted">
      <ul className="assumed">
        {props.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </WhyDrawer>
  );
}
