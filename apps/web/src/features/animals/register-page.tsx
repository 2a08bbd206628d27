import { Link, useSearchParams } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { RegisterCountsQuery } from './animal-documents.js';
import { addressOf, type RegisterView, viewOf } from './register-address.js';
import { RegisterFilters } from './register-filters.js';
import { RegisterTable } from './register-table.js';
import './register.css';

const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;

/** All animals of the program: narrowed as typed, sorted by a tap on a header. */
export function RegisterPage() {
  const program = useProgram();
  const [params, setParams] = useSearchParams();
  const view = viewOf(params);
  // A changed filter begins at the first page again.
  const change = (next: Partial<RegisterView>) =>
    setParams(addressOf({ ...view, pages: 1, ...next }), {
      replace: true,
      preventScrollReset: true,
    });
  const { data, faults, again } = useRead(RegisterCountsQuery, { programId: program.id });
  const all = data?.all.totalCount;
  const add = (
    <Link className="act" to={addresses.addAnimal(program.id)}>
      Add an animal
    </Link>
  );
  return (
    <>
      <Opening
        title="Animals"
        sentence={
          data &&
          (all === 0 ? (
            'Nothing is told yet, so nothing can be answered.'
          ) : (
            <>
              <b>{count(all ?? 0, 'animal stands', 'animals stand')}</b> in the books:{' '}
              {count(data.males.totalCount, 'male', 'males')},{' '}
              {count(data.females.totalCount, 'female', 'females')} and {data.unsexed.totalCount}{' '}
              not yet sexed.
            </>
          ))
        }
        acts={program.mayWrite && <div className="only-wide">{add}</div>}
      />
      <FaultNote faults={faults} again={again} />
      {all === 0 ? (
        <EmptyState title="Begin with one animal">
          <p>
            The hatchling in your hand, or the oldest name in the notebook. A code is enough; year,
            sex and parents can follow for years.
          </p>
          {program.mayWrite ? (
            <p className="acts">
              {add}
              <Link className="act line" to={addresses.bringIn(program.id)}>
                Or bring in a spreadsheet
              </Link>
              <Link className="act line" to={addresses.kitchenTable(program.id)}>
                Or tell it from the kitchen table
              </Link>
            </p>
          ) : (
            <p>You read this program; a keeper or an owner can add animals.</p>
          )}
        </EmptyState>
      ) : (
        <section className="register" aria-label="Register">
          <RegisterFilters view={view} change={change} />
          <RegisterTable programId={program.id} view={view} change={change} all={all} />
          {program.mayWrite && <p className="add-bar only-narrow">{add}</p>}
        </section>
      )}
    </>
  );
}
