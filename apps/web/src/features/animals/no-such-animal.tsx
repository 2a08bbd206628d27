import { Link } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';

/** The address names an animal the books do not hold (any more). */
export function NoSuchAnimal({ programId }: { readonly programId: string }) {
  return (
    <>
      <Opening
        title="No such animal"
        trail={<Link to={addresses.animals(programId)}>Animals</Link>}
        sentence="No animal of this program stands at this address."
      />
      <EmptyState title="What may have happened">
        <p>
          It was struck from the books, or adding it was undone. The{' '}
          <Link to={addresses.history(programId)}>history</Link> says who did it, and can undo it.
        </p>
      </EmptyState>
    </>
  );
}
