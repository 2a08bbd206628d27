import type { GeneFinding } from '../lib/answer-fragments.js';
import { chanceWords } from '../lib/chance-words.js';
import { useProgram } from '../lib/program-context.js';
import { GeneWhy } from './gene-why.js';
import { Scute } from './scute.js';
import { WhyDrawer, WhyPart } from './why-drawer.js';
import './gene-finding.css';

/** The glyph of what an animal carries at one gene. */
export function GeneGlyph({ finding }: { readonly finding: GeneFinding }) {
  const { certainCopies, carries, label } = finding;
  if (certainCopies === 0 || carries.value === 0) return <Scute share={0} core="bar" />;
  if (certainCopies === 2) return <Scute share={1} core="full" />;
  if (certainCopies === 1) return <Scute share={1} core="half" />;
  return <Scute share={label === 'not known' ? null : carries.value} />;
}

/** Label and odds: `proven het`, `possible het, about 2 in 5`. */
export function geneWords({ label, certainCopies, carries }: GeneFinding): string {
  if (certainCopies !== null || label === 'not known' || carries.value >= 1) return label;
  const isPlain = carries.value >= 0.01 && carries.value <= 0.99;
  return `${label}, ${isPlain ? carries.said : chanceWords(carries.value)}`;
}

/** What one animal carries: a line a gene, with the records it rests on. */
export function GeneFindings(props: {
  readonly animalId: string;
  readonly findings: readonly GeneFinding[];
}) {
  const program = useProgram();
  return (
    <ul className="gene-findings">
      {props.findings.map((finding) => (
        <li key={finding.locus.id}>
          <GeneGlyph finding={finding} />
          <div>
            <p>
              <b>{finding.locus.name}</b> {geneWords(finding)}
            </p>
            <WhyDrawer
              of={`${finding.locus.name}, ${geneWords(finding)}`}
              label="Why, and what would settle it"
            >
              {() => (
                <>
                  {finding.why.length > 0 && (
                    <WhyPart name="In the books">
                      <ul className="assumed">
                        {finding.why.map((line) => (
                          <li key={line}>{line}</li>
                        ))}
                      </ul>
                    </WhyPart>
                  )}
                  <GeneWhy
                    programId={program.id}
                    animalId={props.animalId}
                    locusId={finding.locus.id}
                  />
                </>
              )}
            </WhyDrawer>
          </div>
        </li>
      ))}
    </ul>
  );
}
