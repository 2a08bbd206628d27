import { addresses } from '../../lib/addresses.js';
import type { PaperCopy } from './paper-documents.js';
import { Qr } from './qr.js';

export interface LabelProps {
  readonly copy: PaperCopy;
  readonly programId: string;
  /** Address before the path, without trailing slash. */
  readonly base: string;
}

export const SEX_WORDS = { MALE: 'male', FEMALE: 'female', UNKNOWN: 'sex not known' } as const;

/** One label an animal: code, name, sex, mark; the code opens its acts on the phone. */
export function AnimalLabels({ copy, programId, base }: LabelProps) {
  if (copy.animals.length === 0) return <p>No animal is here yet.</p>;
  return (
    <ul className="labels">
      {copy.animals.map((animal) => (
        <li key={animal.id}>
          <Qr
            address={base + addresses.round(programId, { kind: 'animal', id: animal.id })}
            what={animal.code}
          />
          <div>
            <b>{animal.code}</b>
            {animal.name && animal.name !== animal.code && <span>{animal.name}</span>}
            <span>{SEX_WORDS[animal.sex]}</span>
            {animal.marks[0] && <span>{animal.marks[0]}</span>}
          </div>
        </li>
      ))}
    </ul>
  );
}

/** One label a box of eggs. */
export function ClutchLabels({ copy, programId, base }: LabelProps) {
  if (copy.clutches.length === 0) return <p>No clutch of the last two years is written down.</p>;
  return (
    <ul className="labels">
      {copy.clutches.map((clutch) => (
        <li key={clutch.id}>
          <Qr
            address={base + addresses.round(programId, { kind: 'clutch', id: clutch.id })}
            what={`clutch ${clutch.code}`}
          />
          <div>
            <b>{clutch.code}</b>
            <span>{clutch.laid ? `laid ${clutch.laid}` : 'laying not dated'}</span>
            <span>
              {clutch.mothers.length > 0 ? clutch.mothers.join(' or ') : 'mother not known'}
            </span>
            <span className="fill">set ________ at ______ °C</span>
          </div>
        </li>
      ))}
    </ul>
  );
}

/** One label a tub of young. */
export function LotLabels({ copy, programId, base }: LabelProps) {
  if (copy.lots.length === 0) return <p>No lot holds young now.</p>;
  return (
    <ul className="labels">
      {copy.lots.map((lot) => (
        <li key={lot.id}>
          <Qr
            address={base + addresses.round(programId, { kind: 'lot', id: lot.id })}
            what={`lot ${lot.code}`}
          />
          <div>
            <b>{lot.code}</b>
            <span>{lot.count} young</span>
            <span className="fill">counted ______ on ________</span>
          </div>
        </li>
      ))}
    </ul>
  );
}
