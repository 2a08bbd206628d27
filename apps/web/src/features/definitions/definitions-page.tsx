import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { type Definitions, DefinitionsQuery, type Gene } from './definition-documents.js';
import { GenePairs } from './gene-pairs.js';
import { founderWords, frequencyWords, INHERITANCE_WORDS } from './gene-words.js';
import { LooksTable } from './looks-table.js';
import { TraitEntry } from './trait-entry.js';
import '../../components/facts.css';
import './definitions.css';

/** The genes and traits of the program as they are defined, each with an act to change it. */
export function DefinitionsPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(DefinitionsQuery, { programId: program.id });
  const definitions = data?.definitions;
  const several = definitions?.traits.filter(({ loci }) => loci.length > 1) ?? [];
  return (
    <>
      <Opening
        title="Genes and traits"
        trail={<Link to={addresses.program(program.id)}>Program</Link>}
        sentence={definitions && <DefinitionsSentence definitions={definitions} />}
        acts={
          program.mayWrite &&
          definitions && (
            <>
              <Link className="act" to={addresses.addTrait(program.id)}>
                Add a trait
              </Link>
              <Link className="act quiet" to={addresses.addGene(program.id)}>
                Add a gene
              </Link>
            </>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      {!definitions && faults.length === 0 && <Skeleton lines={10} what="genes and traits" />}
      {definitions?.loci.length === 0 && (
        <EmptyState title="No genes yet">
          <p>
            A gene is what we think stands behind a look: for a pale look, the gene pale with the
            common form N and the rarer form p. Add one, or bring in a spreadsheet whose column of
            traits names them.
          </p>
        </EmptyState>
      )}
      {definitions?.loci.map((gene) => (
        <GeneBand key={gene.id} gene={gene} definitions={definitions} />
      ))}
      {definitions && several.length > 0 && (
        <Band title="Of several genes" note="Looks that more than one gene can make.">
          {several.map((trait) => (
            <TraitEntry key={trait.id} trait={trait} />
          ))}
        </Band>
      )}
      {definitions && definitions.loci.length > 1 && <GenePairs definitions={definitions} />}
    </>
  );
}

function DefinitionsSentence({ definitions }: { readonly definitions: Definitions }) {
  const { loci, traits } = definitions;
  if (loci.length === 0) return 'No gene is defined yet, so nobody can be said to carry one.';
  const open = loci.flatMap(({ looks }) => looks.filter(({ gap }) => gap)).length;
  const count = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`;
  return (
    <>
      <b>{count(loci.length, 'gene')}</b> and <b>{count(traits.length, 'trait')}</b>: every answer
      rests on them.{' '}
      {open > 0 && (
        <>
          <b>{count(open, 'genotype')}</b> {open === 1 ? 'wants' : 'want'} a look.
        </>
      )}
    </>
  );
}

function GeneBand({
  gene,
  definitions,
}: {
  readonly gene: Gene;
  readonly definitions: Definitions;
}) {
  const program = useProgram();
  const traits = definitions.traits.filter(
    ({ loci }) => loci.length === 1 && loci[0] === gene.code,
  );
  return (
    <Band
      title={gene.name}
      note={
        <>
          The gene <span className="code">{gene.code}</span>: forms{' '}
          {gene.alleles.map(({ name }) => name).join(', ')}.
        </>
      }
    >
      <LooksTable gene={gene.name} looks={gene.looks} />
      <dl className="facts">
        <div>
          <dt>Passed on</dt>
          <dd>{INHERITANCE_WORDS[gene.inheritance]}</dd>
        </div>
        <div>
          <dt>Among founders</dt>
          <dd>{frequencyWords(gene, definitions.assumedFrequency)}</dd>
        </div>
        <div>
          <dt>Which founders</dt>
          <dd>{founderWords(gene)}</dd>
        </div>
      </dl>
      {program.mayWrite && (
        <p>
          <Link to={addresses.editGene(program.id, gene.id)}>
            Change the gene<span className="vh"> {gene.name}</span>
          </Link>
        </p>
      )}
      {traits.map((trait) => (
        <TraitEntry key={trait.id} trait={trait} />
      ))}
    </Band>
  );
}
