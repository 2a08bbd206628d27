import { useState } from 'react';

/** All animals as a spreadsheet; a tick guards cells that a spreadsheet would run as formulas. */
export function TakeSpreadsheet({ programId }: { readonly programId: string }) {
  const [isGuarded, setGuarded] = useState(false);
  return (
    <div className="take-spreadsheet">
      <a href={`/files/${programId}/program.csv${isGuarded ? '?formulaSafe=true' : ''}`} download>
        Take all animals as a spreadsheet (CSV)
      </a>
      <label className="tick">
        <input
          type="checkbox"
          checked={isGuarded}
          onChange={(event) => setGuarded(event.target.checked)}
        />
        <span>
          Guard against formulas{' '}
          <span className="small soft block">
            What begins with = + - or @ gets an apostrophe in front, so that no spreadsheet runs it.
            Without the tick it stays as written.
          </span>
        </span>
      </label>
    </div>
  );
}
