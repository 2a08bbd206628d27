import type { ReactNode } from 'react';
import { Scute } from '../../components/scute.js';

/** After a section: what can be said now that could not be said before. */
export function Gives({ children }: { readonly children: ReactNode }) {
  return (
    <p className="gives">
      <Scute share={1} tone="settled" core="full" />
      <span>
        <b>Now we can say:</b> {children}
      </span>
    </p>
  );
}

/** Why what was told could not be written, beside the form. */
export function TellingFault({ fault }: { readonly fault: string | null }) {
  return (
    fault && (
      <p className="telling-fault" role="alert">
        {fault}
      </p>
    )
  );
}
