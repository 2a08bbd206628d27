import { Choice } from '../../components/choice.js';
import type { FileLook, Reading } from './import-documents.js';

type Field = NonNullable<NonNullable<Reading['columns']>[number]['field']>;

/** What a column may hold, in the words of the screen. */
const FIELDS: Record<Field, string> = {
  code: 'Code',
  name: 'Name',
  species: 'Species',
  sex: 'Sex',
  hatched: 'Hatched',
  sire: 'Possible fathers',
  dam: 'Possible mothers',
  clutch: 'Clutch',
  traits: 'Traits seen',
  genotype: 'Genes, as told',
  pen: 'Pen it lives in',
  scl_mm: 'Shell length (SCL)',
  mass_g: 'Mass',
  notes: 'Notes',
};

const UNITS: Partial<Record<Field, readonly string[]>> = {
  scl_mm: ['mm', 'cm', 'in'],
  mass_g: ['g', 'kg', 'oz', 'lb'],
};

type DateOrder = NonNullable<Reading['dateOrder']>;

/** How each column, the dates and the numbers are read; a change looks at the file anew. */
export function ColumnTable(props: {
  readonly map: FileLook['map'];
  readonly onChange: (change: Reading) => void;
}) {
  const { map, onChange } = props;
  // Two columns may share a heading; their place tells them apart.
  const columns = map.columns.map(({ heading, field, unit, example }, place) => ({
    place,
    heading,
    example,
    field: field as Field | null,
    unit,
  }));
  const change = (
    at: number,
    next: { readonly field?: Field | null; readonly unit: string | null },
  ) =>
    onChange({
      columns: columns.map(({ place, example: _, ...column }) =>
        place === at ? { ...column, ...next } : column,
      ),
    });
  return (
    <>
      <div className="reading">
        <Choice
          label="Dates begin with"
          value={map.dateOrder as DateOrder}
          onChange={(dateOrder) => onChange({ dateOrder })}
          options={[
            { value: 'DAY_FIRST', words: 'Day' },
            { value: 'MONTH_FIRST', words: 'Month' },
            { value: 'YEAR_FIRST', words: 'Year' },
          ]}
        />
        <Choice
          label="Decimal sign"
          value={map.decimalSign}
          onChange={(decimalSign) => onChange({ decimalSign })}
          options={[
            { value: '.', words: 'Dot: 12.5' },
            { value: ',', words: 'Comma: 12,5' },
          ]}
        />
      </div>
      <table className="columns">
        <caption className="vh">How each column is read</caption>
        <thead>
          <tr>
            <th scope="col">In your file</th>
            <th scope="col">Read as</th>
          </tr>
        </thead>
        <tbody>
          {columns.map(({ place, heading, example, field, unit }) => {
            const units = field ? UNITS[field] : undefined;
            return (
              <tr key={place}>
                <th scope="row">
                  {heading || <span className="soft">no heading</span>}
                  <span className="example">{example || 'nothing in the first rows'}</span>
                </th>
                <td>
                  <div className="read-as">
                    <select
                      aria-label={`Read ${heading || 'the column without heading'} as`}
                      value={field ?? ''}
                      className={field ? undefined : 'left-out'}
                      onChange={(event) => {
                        const next = (event.target.value || null) as Field | null;
                        change(place, { field: next, unit: (next && UNITS[next]?.[0]) ?? null });
                      }}
                    >
                      <option value="">Leave it out</option>
                      {Object.entries(FIELDS).map(([value, words]) => (
                        <option key={value} value={value}>
                          {words}
                        </option>
                      ))}
                    </select>
                    {units && (
                      <select
                        aria-label={`Unit of ${heading}`}
                        value={unit ?? units[0]}
                        onChange={(event) => change(place, { unit: event.target.value })}
                      >
                        {units.map((one) => (
                          <option key={one}>{one}</option>
                        ))}
                      </select>
                    )}
                  </div>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </>
  );
}
