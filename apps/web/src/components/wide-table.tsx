import type { ReactNode } from 'react';

/** Room for a table that may be wider than the screen: it scrolls by itself, also by the keyboard. */
export function WideTable(props: {
  readonly label: string;
  /** Only on wide screens, where a list stands in for it on narrow ones. */
  readonly onlyWide?: boolean;
  readonly children: ReactNode;
}) {
  return (
    <section
      className={props.onlyWide ? 'scroll only-wide' : 'scroll'}
      aria-label={props.label}
      // What scrolls must be reachable without a mouse.
      tabIndex={0}
    >
      {props.children}
    </section>
  );
}
