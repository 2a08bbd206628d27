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
import { AddGene, DefinitionsQuery, EditGene, RemoveGene } from './definition-documents.js';
import { draftOfGene, EMPTY_GENE, type GeneDraft, geneInput } from './gene-draft.js';
import { GeneForm } from './gene-form.js';
import { geneOf } from './gene-words.js';
import './definitions.css';

/** A new gene, or a known one to change or take out. */
export function GenePage() {
  const program = useProgram();
  const { geneId } = useParams();
  const navigate = useNavigate();
  const tellDone = useTellDone();
  const add = useAct(AddGene);
  const edit = useAct(EditGene);
  const remove = useAct(RemoveGene);
  const { data, faults, again } = useRead(DefinitionsQuery, { programId: program.id });
  const definitions = data?.definitions;
  const gene = geneId && definitions ? geneOf(definitions, geneId) : undefined;
  const back = addresses.definitions(program.id);
  const done = (command: { readonly id: string; readonly sentence: string }) => {
    tellDone({ sentence: command.sentence, commandId: command.id });
    navigate(back);
  };
  const save = async (draft: GeneDraft) => {
    const input = geneInput(draft);
    const programId = program.id;
    if (gene) {
      const outcome = await edit.run((commandId) => ({
        programId,
        input: { commandId, locusId: gene.id, ...input },
      }));
      if (!outcome.done) return outcome.faults;
      done(outcome.data.editLocus.command);
    } else {
      const outcome = await add.run((commandId) => ({ programId, input: { commandId, ...input } }));
      if (!outcome.done) return outcome.faults;
      done(outcome.data.addLocus.command);
    }
    return [];
  };
  const takeOut = async () => {
    if (!gene) return;
    const outcome = await remove.run((commandId) => ({
      programId: program.id,
      input: { commandId, locusId: gene.id },
    }));
    if (outcome.done) done(outcome.data.removeLocus.command);
    else
      tellDone({
        sentence: outcome.faults.map((one) => `${one.message} ${one.remedy ?? ''}`).join(' '),
      });
  };
  const isGone = definitions !== undefined && geneId !== undefined && !gene;
  return (
    <>
      <Opening
        title={gene ? `Change the gene ${gene.name}` : 'Add a gene'}
        trail={<Link to={back}>Genes and traits</Link>}
        sentence={
          gene
            ? 'Every answer that rests on it follows at once; the history keeps what was.'
            : 'A gene is what we think stands behind a look.'
        }
      />
      <FaultNote faults={faults} again={again} />
      {!definitions && faults.length === 0 && <Skeleton lines={8} what="the form" />}
      {isGone && (
        <EmptyState title="There is no such gene any more">
          <p>It was taken out; the history can bring it back.</p>
        </EmptyState>
      )}
      {definitions && !isGone && (
        <GeneForm
          key={gene?.id ?? 'new'}
          programId={program.id}
          draftKey={`gene ${gene?.id ?? 'new'}`}
          fresh={gene ? draftOfGene(gene) : EMPTY_GENE}
          definitions={definitions}
          onSubmit={save}
        />
      )}
      {gene && (
        <p className="acts form-foot">
          <button className="act quiet" type="button" disabled={remove.running} onClick={takeOut}>
            Take this gene out
          </button>
        </p>
      )}
    </>
  );
}
