import { useSearchParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Caution } from '../../components/caution.js';
import { Choice } from '../../components/choice.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { GeneGlyph, geneWords } from '../../components/gene-finding.js';
import { Opening } from '../../components/opening.js';
import { SEX_WORDS } from '../../components/sex-shape.js';
import { Skeleton } from '../../components/skeleton.js';
import { type GeneFinding, geneRowFields } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { ContradictionList } from './contradiction-list.js';
import './genes.css';

const GenesQuery = graphql(
  `
    query Genes($programId: ID!) {
      genotypeOdds(programId: $programId) {
        loci {
          id
          code
          name
          inheritance
        }
        traits {
          id
          name
          description
          welfareNote
          loci
        }
        rows {
          ...GeneRowFields
        }
        contradictions {
          recordIds
        }
        precision
        assumptions
      }
    }
  `,
  [geneRowFields],
);

type Genes = ResultOf<typeof GenesQuery>['genotypeOdds'];

const PAGE = 40;

/** Who carries what: a row an animal, a column a gene, each with the glyph and its words. */
export function GenesPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(GenesQuery, { programId: program.id });
  const genes = data?.genotypeOdds;
  return (
    <>
      <Opening title="Who carries what" sentence={genes && <GenesSentence genes={genes} />} />
      <FaultNote faults={faults} again={again} />
      {!genes && faults.length === 0 && <Skeleton lines={16} what="who carries what" />}
      {genes && genes.loci.length === 0 && (
        <EmptyState title="No genes yet">
          <p>A column of traits seen, or of genes, in your spreadsheet makes them.</p>
        </EmptyState>
      )}
      {genes && genes.loci.length > 0 && (
        <>
          {genes.contradictions.length > 0 && (
            <Band title="Cannot all be true" note="Set aside for what stands below.">
              <ContradictionList programId={program.id} />
            </Band>
          )}
          <Matrix programId={program.id} genes={genes} />
          <Band title="The traits" note="How each is inherited, and what is known of its welfare.">
            <ul className="rows">
              {genes.traits.map((trait) => (
                <li key={trait.id}>
                  <span>
                    <b>{trait.name}</b> <span className="soft">by {trait.loci.join(', ')}</span>
                    {trait.description && <span className="small block">{trait.description}</span>}
                  </span>
                </li>
              ))}
            </ul>
            {genes.traits
              .filter(({ welfareNote }) => welfareNote)
              .map((trait) => (
                <Caution key={trait.id} kind="harm" lead={`${trait.name}.`}>
                  {trait.welfareNote}
                </Caution>
              ))}
            <p className="small soft">{genes.precision}</p>
            <Assumed of="the genes" lines={genes.assumptions} />
          </Band>
        </>
      )}
    </>
  );
}

/** For each gene: who shows it, who carries it for certain, who may. */
function GenesSentence({ genes }: { readonly genes: Genes }) {
  const [first] = genes.loci
    .map((locus) => {
      const own = genes.rows.flatMap((row) => row.findings.filter((f) => f.locus.id === locus.id));
      const of = (copies: number) => own.filter((f) => f.certainCopies === copies).length;
      return { locus, shows: of(2), carries: of(1), cleared: of(0), all: own.length };
    })
    .toSorted((a, b) => b.shows + b.carries - (a.shows + a.carries));
  if (!first) return 'No gene is told yet, so nobody can be said to carry one.';
  const open = first.all - first.shows - first.carries - first.cleared;
  return (
    <>
      <span className="t">{first.locus.name}</span>: <b>{first.shows}</b> hold two copies,{' '}
      <b>{first.carries}</b> one for certain, <b>{first.cleared}</b> none; for <b>{open}</b> it is
      not certain.
    </>
  );
}

type Shown = 'ALL' | 'SETTLED' | 'OPEN';

function Matrix({ programId, genes }: { readonly programId: string; readonly genes: Genes }) {
  const [params, setParams] = useSearchParams();
  const asked = params.get('show');
  const shown: Shown = asked === 'SETTLED' || asked === 'OPEN' ? asked : 'ALL';
  const pages = Math.max(1, Number(params.get('pages')) || 1);
  const change = (next: Record<string, string>) =>
    setParams(next, { replace: true, preventScrollReset: true });
  const carrier = ({ certainCopies }: GeneFinding) => (certainCopies ?? 0) > 0;
  const rows = genes.rows.filter(({ findings }) =>
    shown === 'SETTLED'
      ? findings.some(carrier)
      : shown === 'OPEN'
        ? findings.some((f) => !carrier(f) && f.carries.value >= 0.1 && f.certainCopies === null)
        : true,
  );
  return (
    <section className="genes" aria-label="Genes of the animals">
      <Choice
        label="Show"
        value={shown}
        onChange={(show) => change({ show })}
        options={[
          { value: 'ALL', words: `All ${genes.rows.length}` },
          { value: 'SETTLED', words: 'Certain carriers' },
          { value: 'OPEN', words: 'Those who may carry' },
        ]}
      />
      {/* Scrolled sideways by keys too, so it takes the focus. */}
      <div className="scroll">
        <table>
          <caption>
            Filled sides of the hexagon: the chance that it is carried. Core: copies that are
            certain.
          </caption>
          <thead>
            <tr>
              <th scope="col">Animal</th>
              {genes.loci.map((locus) => (
                <th scope="col" key={locus.id}>
                  {locus.name} <span className="soft">{locus.code}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.slice(0, pages * PAGE).map((row) => (
              <tr key={row.animal.id}>
                <th scope="row">
                  <AnimalLink programId={programId} animal={row.animal} />
                  <span className="sex">{SEX_WORDS[row.animal.sex.sex]}</span>
                </th>
                {genes.loci.map((locus) => {
                  const finding = row.findings.find((f) => f.locus.id === locus.id);
                  return (
                    <td key={locus.id}>
                      {finding && (
                        <span className="gene-cell">
                          <b className="only-narrow">{locus.name}</b>
                          <GeneGlyph finding={finding} />
                          <span>{geneWords(finding)}</span>
                        </span>
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {rows.length === 0 && <p>No animal fits.</p>}
      {rows.length > pages * PAGE && (
        <p className="acts">
          <button
            type="button"
            className="act line"
            onClick={() => change({ show: shown, pages: String(pages + 1) })}
          >
            Show the next {Math.min(PAGE, rows.length - pages * PAGE)}
          </button>
        </p>
      )}
    </section>
  );
}
