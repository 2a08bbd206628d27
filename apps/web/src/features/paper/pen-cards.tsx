import { addresses } from '../../lib/addresses.js';
import { type LabelProps, SEX_WORDS } from './labels.js';
import { Qr } from './qr.js';

/** A card a pen: who belongs in it, room to write, and a code that opens the pen on the phone. */
export function PenCards({ copy, programId, base }: LabelProps) {
  if (copy.pens.length === 0) return <p>No pen is written down yet.</p>;
  return copy.pens.map((pen) => {
    const animals = copy.animals.filter(({ penId }) => penId === pen.id);
    const lots = copy.lots.filter(({ penId }) => penId === pen.id);
    const count = (sex: keyof typeof SEX_WORDS) =>
      animals.filter((each) => each.sex === sex).length;
    const young = lots.reduce((sum, lot) => sum + lot.count, 0);
    return (
      <section key={pen.id} className="pen-card" aria-label={pen.name}>
        <header>
          <div>
            <h2>{pen.name}</h2>
            <p>
              {count('MALE')}.{count('FEMALE')}.{count('UNKNOWN') + young} (males.females.unsexed)
              {pen.isQuarantine && '; quarantine: tools and hands of its own'}
            </p>
          </div>
          <Qr address={`${base}${addresses.round(programId)}?pen=${pen.id}`} what={pen.name} />
        </header>
        <table>
          <thead>
            <tr>
              <th scope="col">Code</th>
              <th scope="col">Name, mark</th>
              <th scope="col">Sex</th>
              <th scope="col">Came</th>
              <th scope="col">Left</th>
              <th scope="col">To note</th>
            </tr>
          </thead>
          <tbody>
            {animals.map((animal) => (
              <tr key={animal.id}>
                <th scope="row">{animal.code}</th>
                <td>
                  {[animal.name !== animal.code && animal.name, animal.marks[0]]
                    .filter(Boolean)
                    .join(', ')}
                </td>
                <td>{SEX_WORDS[animal.sex]}</td>
                <td />
                <td />
                <td />
              </tr>
            ))}
            {lots.map((lot) => (
              <tr key={lot.id}>
                <th scope="row">Lot {lot.code}</th>
                <td>{lot.count} young</td>
                <td />
                <td />
                <td />
                <td />
              </tr>
            ))}
            {[0, 1].map((k) => (
              <tr key={k} className="blank">
                <td />
                <td />
                <td />
                <td />
                <td />
                <td />
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    );
  });
}
