import { Standing } from '../../components/standing.js';
import { EvidenceList, WhyDrawer } from '../../components/why-drawer.js';
import { partialDateWords } from '../../lib/date-words.js';
import type { AnimalDetail } from './animal-documents.js';

const WORDS = { FEMALE: 'Female', MALE: 'Male', UNKNOWN: 'Not yet sexed' };

/** The sex and the records it rests on. */
export function SexStanding({ finding }: { readonly finding: AnimalDetail['sex'] }) {
  const { sex, basis } = finding;
  const known = sex !== 'UNKNOWN';
  return (
    <Standing
      name="Sex"
      is={WORDS[sex]}
      sure={known ? 'recorded' : 'not known'}
      glyph={known ? { share: 1, core: 'full', tone: 'settled' } : { share: null }}
    >
      {basis.length > 0 ? (
        <WhyDrawer of="sex">
          <EvidenceList
            lines={basis.map(({ id, sentence, date }) => ({
              key: id,
              finding: sentence,
              source: date && partialDateWords(date),
            }))}
          />
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
