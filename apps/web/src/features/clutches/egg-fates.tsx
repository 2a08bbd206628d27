import type { CSSProperties } from 'react';
import type { ClutchSheet } from './clutch-documents.js';
import '../../components/egg-tray.css';

type Fate = 'hatched' | 'open' | 'infertile' | 'died' | 'lost' | 'broken' | 'unset';
interface Group {
  readonly name: string;
  readonly fate: Fate;
  readonly eggs: number;
  readonly note?: string;
}

/** Every egg of a clutch once, by what became of it; the count must come out. */
export function EggFates({ sheet }: { readonly sheet: ClutchSheet }) {
  const { losses } = sheet;
  const groups: Group[] = [
    { name: 'hatched', fate: 'hatched', eggs: sheet.hatched },
    {
      name: sheet.batches.length > 0 ? 'still in the box' : 'not yet set',
      fate: 'open',
      eggs: sheet.open ?? 0,
    },
    { name: 'infertile', fate: 'infertile', eggs: losses.infertile },
    { name: 'died early', fate: 'died', eggs: losses.diedEarly },
    { name: 'died late', fate: 'died', eggs: losses.diedLate },
    { name: 'lost', fate: 'lost', eggs: losses.lost },
    { name: 'broken', fate: 'broken', eggs: sheet.broken },
    { name: 'not set', fate: 'unset', eggs: sheet.notSet, note: 'on purpose' },
  ];
  const shown = groups.filter(({ eggs }) => eggs > 0);
  if (shown.length === 0) return <p>Nobody counted the eggs.</p>;
  return (
    <div className="tray fates">
      {shown.map(({ name, fate, eggs, note }) => (
        <div className="lot" key={name}>
          <div
            className="eggs"
            role="img"
            aria-label={`${eggs} ${eggs === 1 ? 'egg' : 'eggs'}: ${name}`}
            style={
              {
                '--columns': eggs <= 3 ? Math.max(1, eggs) : Math.min(6, Math.ceil(eggs / 2)),
              } as CSSProperties
            }
          >
            {Array.from({ length: Math.min(eggs, 60) }, (_, k) => k).map((k) => (
              <svg key={k} className={`egg ${fate}`} viewBox="0 0 40 48" aria-hidden="true">
                <ellipse className="shell" cx="20" cy="24" rx="15.5" ry="20.5" />
                {fate === 'died' && <path className="mark" d="M6 44L34 4" />}
                {fate === 'unset' && <path className="mark" d="M12 24H28" />}
                {fate === 'hatched' && (
                  <path className="mark" d="M5 26L12 20L18 28L25 19L31 27L35 22" />
                )}
                {fate === 'open' && <circle className="mark" cx="20" cy="24" r="3" />}
                {fate === 'lost' && <path className="mark" d="M12 14L28 34M28 14L12 34" />}
                {fate === 'broken' && <path className="mark" d="M14 8L22 20L15 27L24 40" />}
              </svg>
            ))}
          </div>
          <p>
            <span className="of-twenty">
              {eggs} {name}
            </span>
            {note && <span className="small">{note}</span>}
          </p>
        </div>
      ))}
    </div>
  );
}
