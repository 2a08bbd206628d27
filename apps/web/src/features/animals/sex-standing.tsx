import { Standing } from '../../components/standing.js';
import { EvidenceList, WhyDrawer } from '../../components/why-drawer.js';
import type { AnimalDetail } from './animal-documents.js';

const WORDS = { FEMALE: 'Female', MALE: 'Male', UNKNOWN: 'Not yet sexed' };

/** The sex and the records it rests on. */
export function SexStanding({ finding }: { readonly finding: AnimalDetail['sex'] }) {
  const { sex, why } = finding;
  const known = sex !== 'UNKNOWN';
  return (
    <Standing
      name="Sex"
      is={WORDS[sex]}
      sure={known ? 'recorded' : 'not known'}
      glyph={known ? { share: 1, core: 'full', tone: 'settled' } : { share: null }}
    >
      {why.length > 0 ? (
        <WhyDrawer of="sex">
          <EvidenceList lines={why.map((sentence) => ({ key: sentence, finding: sentence }))} />
        </WhyDrawer>
      ) : (
        <p className="small soft">
          {known
            ? 'Written in the register, without a record of who looked.'
            : 'No record says what it is. A look at a grown animal’s tail and plastron would.'}
        </p>
      )}
    </Standing>
  );
}
