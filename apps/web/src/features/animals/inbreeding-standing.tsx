import { CompletenessBars } from '../../components/completeness-bars.js';
import { Standing } from '../../components/standing.js';
import { WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { AnimalDetail } from './animal-documents.js';

/** F beside how far the books go: unknown is not unrelated. */
export function InbreedingStanding({ finding }: { readonly finding: AnimalDetail['inbreeding'] }) {
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
