import { Fragment } from 'react';
import type { PaperCopy } from './paper-documents.js';

/** The season on paper: the same things that the phone asks for, to be typed in later. */
export function SeasonSheet({ copy }: { readonly copy: PaperCopy }) {
  const females = copy.animals.filter(({ sex }) => sex === 'FEMALE').map(({ code }) => code);
  return (
    <>
      <section className="season">
        <h2>Who moved</h2>
        <Blank columns={['Day', 'Animals', 'From pen', 'To pen', 'By']} rows={9} />
      </section>
      <section className="season">
        <h2>Matings and fights seen</h2>
        <Blank columns={['Day', 'Who', 'With whom', 'What', 'Pen']} rows={7} />
      </section>
      <section className="season">
        <h2>Eggs</h2>
        {females.length > 0 && (
          <p className="small">
            Females:{' '}
            {females.slice(0, 60).map((code) => (
              <Fragment key={code}>
                <span className="code">{code}</span>{' '}
              </Fragment>
            ))}
          </p>
        )}
        <Blank
          columns={[
            'Day',
            'Mother, or those it may be',
            'Seen laying?',
            'Eggs',
            'Broken',
            'Not set',
            'Box',
            '°C',
          ]}
          rows={12}
        />
      </section>
      <section className="season">
        <h2>Out of the eggs</h2>
        <p className="small">
          Look at every young one, the plain ones too: a plain one counts only if somebody looked.
        </p>
        <Blank
          columns={[
            'Day',
            'Box',
            'Hatched',
            'Looked at',
            ...copy.traits.slice(0, 3),
            'Dead in shell',
            'Infertile',
            'Tub',
          ]}
          rows={12}
        />
      </section>
      <section className="season">
        <h2>Weights and lengths</h2>
        <Blank columns={['Day', 'Animal', 'Weight g', 'Shell mm', 'To note']} rows={14} />
      </section>
      <section className="season">
        <h2>Died, left, arrived</h2>
        <Blank columns={['Day', 'Animal', 'What happened', 'From or to whom', 'Paper']} rows={8} />
      </section>
    </>
  );
}

function Blank({ columns, rows }: { readonly columns: readonly string[]; readonly rows: number }) {
  return (
    <table>
      <thead>
        <tr>
          {columns.map((column) => (
            <th key={column} scope="col">
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {Array.from({ length: rows }, (_, row) => `row ${row}`).map((row) => (
          <tr key={row} className="blank">
            {columns.map((column) => (
              <td key={column} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
