import { Link, useNavigate } from 'react-router';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { AddAnimal, FreshAnimalQuery } from './animal-acts.js';
import { draftInput, EMPTY_ANIMAL } from './animal-draft.js';
import { AnimalForm } from './animal-form.js';

/** A new animal; its code is suggested, its species taken from the first one in the books. */
export function AddAnimalPage() {
  const program = useProgram();
  const navigate = useNavigate();
  const tellDone = useTellDone();
  const { run } = useAct(AddAnimal);
  const { data, faults, again } = useRead(FreshAnimalQuery, { programId: program.id });
  return (
    <>
      <Opening
        title="Add an animal"
        trail={<Link to={addresses.animals(program.id)}>Animals</Link>}
        sentence="Write what you know; the rest can follow for years."
      />
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={8} what="the form" />}
      {data && (
        <AnimalForm
          programId={program.id}
          draftKey="new animal"
          fresh={{
            ...EMPTY_ANIMAL,
            code: data.suggestCode,
            species: data.animals.edges[0]?.node.species ?? '',
          }}
          submitWords="Write it down"
          onSubmit={async (draft) => {
            const outcome = await run((commandId) => ({
              programId: program.id,
              input: { commandId, ...draftInput(draft) },
            }));
            if (!outcome.done) return outcome.faults;
            const { animal, commandId } = outcome.data.addAnimal;
            tellDone({ sentence: `${animal.code} stands in the books.`, commandId });
            navigate(addresses.animal(program.id, animal.id));
            return [];
          }}
        />
      )}
    </>
  );
}
