import { Link, useNavigate, useParams } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useTellDone } from '../../lib/done-context.js';
import { useProgram } from '../../lib/program-context.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';
import { AddTrait, DefinitionsQuery, EditTrait, RemoveTrait } from './definition-documents.js';
import { draftOfTrait, emptyTrait, type TraitDraft, traitInput } from './trait-draft.js';
import { TraitForm } from './trait-form.js';
import './definitions.css';

/** A new trait, or a known one to change or take out. */
export function TraitPage() {
  const program = useProgram();
  const { traitId } = useParams();
  const navigate = useNavigate();
  const tellDone = useTellDone();
  const add = useAct(AddTrait);
  const edit = useAct(EditTrait);
  const remove = useAct(RemoveTrait);
  const { data, faults, again } = useRead(DefinitionsQuery, { programId: program.id });
  const definitions = data?.definitions;
  const trait = definitions?.traits.find(({ id }) => id === traitId);
  const back = addresses.definitions(program.id);
  const done = (command: { readonly id: string; readonly sentence: string }) => {
    tellDone({ sentence: command.sentence, commandId: command.id });
    navigate(back);
  };
  const save = async (draft: TraitDraft) => {
    if (!definitions) return [];
    const input = traitInput(draft, definitions);
    const programId = program.id;
    if (trait) {
      const outcome = await edit.run((commandId) => ({
        programId,
        input: { commandId, traitId: trait.id, ...input },
      }));
      if (!outcome.done) return outcome.faults;
      done(outcome.data.editTrait.command);
    } else {
      const outcome = await add.run((commandId) => ({ programId, input: { commandId, ...input } }));
      if (!outcome.done) return outcome.faults;
      done(outcome.data.addTrait.command);
    }
    return [];
  };
  const takeOut = async () => {
    if (!trait) return;
    const outcome = await remove.run((commandId) => ({
      programId: program.id,
      input: { commandId, traitId: trait.id },
    }));
    if (outcome.done) done(outcome.data.removeTrait.command);
    else
      tellDone({
        sentence: outcome.faults.map((one) => `${one.message} ${one.remedy ?? ''}`).join(' '),
      });
  };
  const isGone = definitions !== undefined && traitId !== undefined && !trait;
  return (
    <>
      <Opening
        title={trait ? `Change the trait ${trait.name}` : 'Add a trait'}
        trail={<Link to={back}>Genes and traits</Link>}
        sentence={
          trait
            ? 'Every answer that rests on it follows at once; the history keeps what was.'
            : 'A trait is what you see: say which animals show it.'
        }
      />
      <FaultNote faults={faults} again={again} />
      {!definitions && faults.length === 0 && <Skeleton lines={8} what="the form" />}
      {isGone && (
        <EmptyState title="There is no such trait any more">
          <p>It was taken out; the history can bring it back.</p>
        </EmptyState>
      )}
      {definitions?.loci.length === 0 && (
        <EmptyState title="A gene comes first">
          <p>
            A trait shows in animals of certain genes.{' '}
            <Link to={addresses.addGene(program.id)}>Add a gene</Link> to begin with.
          </p>
        </EmptyState>
      )}
      {definitions && definitions.loci.length > 0 && !isGone && (
        <TraitForm
          key={trait?.id ?? 'new'}
          programId={program.id}
          traitId={trait?.id ?? null}
          fresh={trait ? draftOfTrait(trait, definitions) : emptyTrait(definitions)}
          definitions={definitions}
          onSubmit={save}
        />
      )}
      {trait && (
        <p className="acts form-foot">
          <button className="act quiet" type="button" disabled={remove.running} onClick={takeOut}>
            Take this trait out
          </button>
        </p>
      )}
    </>
  );
}
