import { Link, useNavigate, useParams } from 'react-router';
import { Code } from '../../components/code.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { typedDate } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { EditAnimal, RemoveAnimal } from './animal-acts.js';
import { type AnimalDetail, AnimalQuery } from './animal-documents.js';
import { type AnimalDraft, changedInput } from './animal-draft.js';
import { AnimalForm } from './animal-form.js';
import { NoSuchAnimal } from './no-such-animal.js';
import { parentRows } from './parent-shares.js';

/** Mends what the books say of an animal, or strikes it out; both can be undone. */
export function EditAnimalPage() {
  const program = useProgram();
  const { animalId = '' } = useParams();
  const navigate = useNavigate();
  const tellDone = useTellDone();
  const edit = useAct(EditAnimal);
  const remove = useAct(RemoveAnimal);
  const { data, faults, again } = useRead(AnimalQuery, { programId: program.id, id: animalId });
  if (data && !data.animal) return <NoSuchAnimal programId={program.id} />;
  const animal = data?.animal;
  const back = addresses.animal(program.id, animalId);
  const strikeOut = async () => {
    const outcome = await remove.run((commandId) => ({
      programId: program.id,
      input: { commandId, animalId },
    }));
    if (!outcome.done) {
      tellDone({
        sentence: outcome.faults.map((one) => `${one.message} ${one.remedy ?? ''}`).join(' '),
      });
      return;
    }
    const { id, sentence } = outcome.data.removeAnimal.command;
    tellDone({ sentence, commandId: id });
    navigate(addresses.animals(program.id));
  };
  return (
    <>
      <Opening
        title={animal ? `Change ${animal.code}` : 'Change an animal'}
        trail={
          <Link to={back}>
            Back to {animal ? <Code code={animal.code} name={animal.name} /> : 'the animal'}
          </Link>
        }
        sentence="What was wrong is kept in the history; nothing is lost by mending it."
      />
      <FaultNote faults={faults} again={again} />
      {!animal && faults.length === 0 && <Skeleton lines={8} what="the animal" />}
      {animal && (
        <>
          <AnimalForm
            key={animal.id}
            programId={program.id}
            draftKey={`animal ${animal.id}`}
            fresh={draftOf(animal)}
            childId={animal.id}
            clutch={animal.clutch?.code}
            submitWords="Keep the changes"
            onSubmit={async (draft, base) => {
              const changed = changedInput(base, draft);
              if (Object.keys(changed).length > 0) {
                const outcome = await edit.run((commandId) => ({
                  programId: program.id,
                  input: { commandId, animalId, ...changed },
                }));
                if (!outcome.done) return outcome.faults;
                const { commandId } = outcome.data.editAnimal;
                tellDone({ sentence: `${draft.code.trim()} is mended.`, commandId });
              }
              navigate(back);
              return [];
            }}
          />
          <p className="acts">
            <button
              className="act quiet"
              type="button"
              disabled={remove.running}
              onClick={strikeOut}
            >
              Strike this animal from the books
            </button>
          </p>
        </>
      )}
    </>
  );
}

function draftOf(animal: AnimalDetail): AnimalDraft {
  return {
    code: animal.code,
    name: animal.name ?? '',
    species: animal.species,
    sex: animal.sex.sex,
    origin: animal.origin,
    hatched: typedDate(animal.hatched?.text ?? null),
    mothers: parentRows(animal.dam.candidates),
    fathers: parentRows(animal.sire.candidates),
    notes: animal.notes ?? '',
  };
}
