import { type EggKind, type EggLot, EggTray } from '../../components/egg-tray.js';
import { shareNote } from '../../lib/chance-words.js';
import type { EggLook, TargetOdds } from './pairing-documents.js';

/** A case rarer than one in fifty is in the figures, but gets no tray of its own. */
const LEAST = 0.02;
const KINDS: Record<EggLook['kind'], EggKind> = {
  SHOWS: 'shows',
  OTHER: 'other',
  CARRIES: 'carries',
  CLEAR: 'plain',
};

/** Twenty eggs, and below them the cases where what the parents carry is not certain. */
export function OutcomeTrays({ target }: { readonly target: TargetOdds }) {
  const shown = target.cases.filter(({ probability }) => probability.value >= LEAST);
  return (
    <>
      <EggTray lots={target.looks.map((look) => lot(look, true))} />
      {target.plainSentence && <p>{target.plainSentence}</p>}
      {shown.length > 1 && (
        <div className="cases">
          {shown.map((one) => (
            <div key={one.sentence}>
              <h3>
                {one.sentence} <span className="soft">{one.probability.said}</span>
              </h3>
              <EggTray fine lots={one.looks.map((look) => lot(look, false))} />
            </div>
          ))}
        </div>
      )}
    </>
  );
}

export function lot(look: EggLook, noted: boolean): EggLot {
  return {
    name: look.name,
    eggs: look.eggs,
    kind: KINDS[look.kind],
    note: noted ? shareNote(look.share) : undefined,
  };
}
