import { AnimalFinder, type FoundAnimal } from '../../components/animal-finder.js';
import { CandidateLines } from '../../components/candidate-lines.js';
import { Code } from '../../components/code.js';
import { type FormFault, faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { type ParentRow, parentShares } from './parent-shares.js';
import './parents-field.css';

/**
 * The possible mothers or fathers of an animal, each with its chance. Ids of the controls:
 * `fathers-0`, `fathers-1` ... and `fathers-find`.
 */
export function ParentsField(props: {
  readonly programId: string;
  readonly which: 'mothers' | 'fathers';
  readonly rows: readonly ParentRow[];
  readonly onChange: (rows: readonly ParentRow[]) => void;
  readonly faults: readonly FormFault[];
  /** The animal whose parents these are, once it has an id: nobody is its own parent. */
  readonly childId?: string;
}) {
  const { which, rows } = props;
  const one = which === 'mothers' ? 'mother' : 'father';
  const wrongSex = which === 'mothers' ? 'MALE' : 'FEMALE';
  const { shares, unrecorded, fault } = parentShares(rows);
  const isOut = (animal: FoundAnimal) =>
    animal.sex.sex === wrongSex ||
    animal.id === props.childId ||
    rows.some((row) => row.animalId === animal.id);
  const change = (at: number, next: Partial<ParentRow>) =>
    props.onChange(rows.map((row, k) => (k === at ? { ...row, ...next } : row)));
  return (
    <fieldset className="field parents">
      <legend className="lab">{one === 'mother' ? 'Mother' : 'Father'}</legend>
      <span className="hint">
        {one === 'mother'
          ? 'Usually one, seen laying. Add a second if the eggs may be another’s.'
          : 'Add every male it may be; more than one is the normal case.'}
      </span>
      {rows.length > 0 && (
        <ol>
          {rows.map((row, at) => (
            <li key={row.animalId}>
              <span className="who">
                <Code code={row.code} name={row.name} />
              </span>
              <Field
                id={`${which}-${at}`}
                label={
                  <>
                    <span className="vh">Chance of {row.code}, </span>in 100
                  </>
                }
                inputMode="decimal"
                autoComplete="off"
                value={row.inHundred}
                onChange={(inHundred) => change(at, { inHundred })}
                fault={faultAt(props.faults, `${which}-${at}`)}
                placeholder={shares[at] ? String(Number((shares[at] * 100).toFixed(1))) : ''}
              />
              <button
                type="button"
                className="act quiet"
                onClick={() => props.onChange(rows.filter((_, k) => k !== at))}
              >
                Take out<span className="vh"> {row.code}</span>
              </button>
            </li>
          ))}
        </ol>
      )}
      {rows.length > 0 && !fault && (rows.length > 1 || unrecorded > 0) && (
        <CandidateLines
          lines={[
            ...rows.map((row, at) => ({
              key: row.animalId,
              who: <Code code={row.code} name={row.name} />,
              probability: shares[at] ?? 0,
            })),
            ...(unrecorded > 0
              ? [
                  {
                    key: 'unrecorded',
                    who: `a ${one === 'mother' ? 'female' : 'male'} nobody recorded`,
                    probability: unrecorded,
                    unrecorded: true,
                  },
                ]
              : []),
          ]}
        />
      )}
      <AnimalFinder
        id={`${which}-find`}
        programId={props.programId}
        label={rows.length === 0 ? `Code or name of the ${one}` : `Another possible ${one}`}
        placeholder={rows.length === 0 ? 'Not known: leave it empty' : undefined}
        isOut={isOut}
        fault={faultAt(props.faults, `${which}-find`)}
        onPick={({ id, code, name }) =>
          props.onChange([...rows, { animalId: id, code, name, inHundred: '' }])
        }
      />
    </fieldset>
  );
}
