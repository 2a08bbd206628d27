import { type FormEvent, type ReactNode, useState } from 'react';
import type { ApiFault } from '../lib/api-fault.js';
import { useKeptDraft } from '../lib/kept-draft.js';
import { ErrorSummary, type FormFault, formFaults } from './error-summary.js';

const NO_FAULTS = () => [];

/** What the fields of a draft's form are drawn from. */
export interface DraftFields<Draft> {
  readonly draft: Draft;
  readonly change: (next: Partial<Draft>) => void;
  readonly faults: readonly FormFault[];
}

/**
 * A form whose draft stays in this tab until it is written or thrown away. Faults of its own (`check`) are told before
 * anything is sent. `onSubmit` is given the draft and what it began from, and answers the
 * server's faults; none means it is done.
 */
export function DraftForm<Draft>(props: {
  readonly programId: string;
  /** Names the kept draft: one for each thing, one for a new one. */
  readonly draftKey: string;
  readonly fresh: Draft;
  readonly check?: (draft: Draft) => FormFault[];
  /** The field of a place such as `input.name`, as the server names it. */
  readonly fieldOfPlace: (place: string) => string | undefined;
  readonly submitWords: string;
  readonly onSubmit: (draft: Draft, base: Draft) => Promise<readonly ApiFault[]>;
  readonly children: (fields: DraftFields<Draft>) => ReactNode;
}) {
  const { check = NO_FAULTS } = props;
  const { draft, base, change, wasKept, startAfresh, forget } = useKeptDraft(
    `${props.programId} ${props.draftKey}`,
    props.fresh,
  );
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const [isWriting, setIsWriting] = useState(false);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (isWriting) return;
    const own = check(draft);
    setFaults(own);
    if (own.length > 0) return;
    setIsWriting(true);
    const refused = await props.onSubmit(draft, base);
    setIsWriting(false);
    if (refused.length === 0) forget();
    else setFaults(formFaults(refused, props.fieldOfPlace));
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      {wasKept && (
        <p className="kept">
          What you typed before is still here.{' '}
          <button type="button" className="act quiet" onClick={startAfresh}>
            Start afresh
          </button>
        </p>
      )}
      {props.children({ draft, change, faults })}
      <div className="acts save">
        <button className="act" type="submit" aria-disabled={isWriting}>
          {isWriting ? 'Writing it down' : props.submitWords}
        </button>
      </div>
    </form>
  );
}
