import { Link } from 'react-router';
import { Code } from '../../components/code.js';
import { CompletenessBars } from '../../components/completeness-bars.js';
import { Standing } from '../../components/standing.js';
import { EvidenceList, WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { addresses } from '../../lib/addresses.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { AnimalDetail } from './animal-documents.js';

/** F beside how far the books go: unknown is not unrelated. */
export function InbreedingStanding(props: {
  readonly programId: string;
  readonly finding: AnimalDetail['inbreeding'];
}) {
  const { finding } = props;
  const generations = Number(finding.equivalentGenerations.toFixed(1));
  const nothing = finding.equivalentGenerations === 0;
  return (
    <Standing
      name="Inbreeding"
      is={finding.sentence}
      sure={nothing ? 'not known' : `F ${inbreedingWords(finding.value)}`}
      sureNote={
        !nothing && `from ${generations} ${generations === 1 ? 'generation' : 'generations'} known`
      }
      glyph={{ share: nothing ? null : (finding.completeness[0] ?? 0), tone: 'settled' }}
    >
      <WhyDrawer of="inbreeding" label="Why, and how far the books go">
        {finding.commonAncestors.length > 0 && (
          <WhyPart name="Ancestors on both sides, and their part of F">
            <EvidenceList
              lines={finding.commonAncestors.map(({ animal, contribution }) => ({
                key: animal.id,
                finding: (
                  <Link to={addresses.animal(props.programId, animal.id)}>
                    <Code code={animal.code} name={animal.name} />
                  </Link>
                ),
                moved: inbreedingWords(contribution),
              }))}
            />
            {!finding.commonAncestorsComplete && (
              <p className="small soft">The list holds only the largest; there are more.</p>
            )}
          </WhyPart>
        )}
        <WhyPart name="How much of its forebears is recorded">
          <CompletenessBars shares={finding.completeness} />
        </WhyPart>
        {finding.assumptions.length > 0 && (
          <WhyPart name="Assumed">
            <ul className="assumed">
              {finding.assumptions.map((assumption) => (
                <li key={assumption}>{assumption}</li>
              ))}
            </ul>
          </WhyPart>
        )}
      </WhyDrawer>
    </Standing>
  );
}
