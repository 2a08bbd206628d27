import type { CSSProperties } from 'react';
import './egg-tray.css';

/** Full: shows the sought trait. Ringed: shows another. Half: carries it unseen. Plain: neither. */
export type EggKind = 'shows' | 'other' | 'carries' | 'plain';

export interface EggLot {
  readonly name: string;
  /** Of twenty; the lots of a tray sum to twenty. */
  readonly eggs: number;
  readonly kind: EggKind;
  /** The exact share beside the drawn one: `1/3, 33 %`. */
  readonly note?: string;
}

/** Twenty eggs grouped by what they can be. `fine` is the small tray of one case among several. */
export function EggTray(props: { readonly lots: readonly EggLot[]; readonly fine?: boolean }) {
  return (
    <div className={props.fine ? 'tray fine' : 'tray'}>
      {props.lots.map((lot) => (
        <div className="lot" key={lot.name}>
          {lot.eggs > 0 && (
            <div
              className="eggs"
              role="img"
              aria-label={`${lot.eggs} of 20 eggs: ${lot.name}`}
              style={{ '--columns': columns(lot.eggs) } as CSSProperties}
            >
              {Array.from({ length: lot.eggs }, (_, k) => k).map((k) => (
                <Egg key={k} kind={lot.kind} />
              ))}
            </div>
          )}
          <p>
            <span className="of-twenty">
              {lot.eggs > 0 ? lot.eggs : 'hardly any'} {lot.name}
            </span>
            {lot.note && <span className="small">{lot.note}</span>}
          </p>
        </div>
      ))}
    </div>
  );
}

/** Two or three rows, so that lots of a tray stand at like height; so few as three lie side by side. */
const columns = (eggs: number) =>
  eggs <= 3 ? Math.max(1, eggs) : Math.min(7, Math.ceil(eggs / (eggs > 14 ? 3 : 2)));

function Egg({ kind }: { readonly kind: EggKind }) {
  return (
    <svg className={`egg ${kind}`} viewBox="0 0 40 48" aria-hidden="true">
      <ellipse className="cup" cx="20" cy="24.6" rx="19" ry="23" />
      <ellipse className="shell" cx="20" cy="24" rx="15.5" ry="20.5" />
      {kind === 'other' && <ellipse className="ring" cx="20" cy="24" rx="8.5" ry="12" />}
      {kind === 'carries' && <path className="half" d="M4.5 24A15.5 20.5 0 0 0 35.5 24Z" />}
    </svg>
  );
}
