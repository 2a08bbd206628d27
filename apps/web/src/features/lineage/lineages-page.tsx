import { useNavigate } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { Band } from '../../components/band.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';

/** Whose lineage? */
export function LineagesPage() {
  const program = useProgram();
  const navigate = useNavigate();
  return (
    <>
      <Opening
        title="Lineage"
        sentence="Name an animal to see who its parents may be, and back to which founders."
      />
      <Band title="Whose lineage" note="A hatchling, or anybody in the books.">
        <div className="onecol">
          <AnimalFinder
            id="lineage-of"
            programId={program.id}
            label="Animal"
            placeholder="Code or name"
            onPick={(animal) => navigate(addresses.lineage(program.id, animal.id))}
          />
        </div>
      </Band>
    </>
  );
}
