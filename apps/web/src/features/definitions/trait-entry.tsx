import { Link } from 'react-router';
import { Caution } from '../../components/caution.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import type { Trait } from './definition-documents.js';
import { misreadWords } from './gene-words.js';

/** One trait: its rule as a sentence, how well it is told, what is known of harm. */
export function TraitEntry({ trait }: { readonly trait: Trait }) {
  const program = useProgram();
  const { name, said, description, misreadYoung, misreadAdult, welfareNote } = trait;
  return (
    <div className="trait">
      <h3>{name}</h3>
      <p className="said">{said}</p>
      {description && <p className="soft">{description}</p>}
      <dl className="facts">
        <div>
          <dt>Seen in</dt>
          <dd>
            {trait.seenIn === 0
              ? 'no colour check yet'
              : `${trait.seenIn} colour ${trait.seenIn === 1 ? 'check' : 'checks'}`}
          </dd>
        </div>
        <div>
          <dt>Looked at wrong</dt>
          <dd>
            {misreadWords(misreadYoung)} when young, {misreadWords(misreadAdult)} when grown
          </dd>
        </div>
        {!welfareNote && (
          <div>
            <dt>Harm known</dt>
            <dd>none noted here, which proves nothing; a veterinarian knows better</dd>
          </div>
        )}
      </dl>
      {welfareNote && (
        <Caution
          kind="harm"
          lead={`${name}.`}
          source={trait.welfareSource ?? 'No source is given. Ask a veterinarian.'}
        >
          {welfareNote}
        </Caution>
      )}
      {program.mayWrite && (
        <p>
          <Link to={addresses.editTrait(program.id, trait.id)}>
            Change the trait<span className="vh"> {name}</span>
          </Link>
        </p>
      )}
    </div>
  );
}
