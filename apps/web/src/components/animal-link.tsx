import { Link } from 'react-router';
import { addresses } from '../lib/addresses.js';
import { Code } from './code.js';

/** An animal by its code and name, leading to its page. */
export function AnimalLink(props: {
  readonly programId: string;
  readonly animal: { readonly id: string; readonly code: string; readonly name?: string | null };
}) {
  const { programId, animal } = props;
  return (
    <Link to={addresses.animal(programId, animal.id)}>
      <Code code={animal.code} name={animal.name} />
    </Link>
  );
}
