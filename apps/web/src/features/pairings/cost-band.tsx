import { AnimalLink } from '../../components/animal-link.js';
import { EvidenceList, WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { inbreedingWords } from '../../lib/chance-words.js';
import type { CrossAnswer } from './pairing-documents.js';

/** How inbred the young would be, with the range the possible fathers allow, and through whom. */
export function CostBand(props: {
  readonly programId: string;
  readonly inbreeding: CrossAnswer['inbreeding'];
}) {
  const { value, lowest, highest, isRangeExact, sentence, commonAncestors } = props.inbreeding;
  const open = lowest !== highest;
  return (
    <>
      <p className="cost">
        <b>F {inbreedingWords(value)}</b>{' '}
        <span className="soft">
          {open
            ? `${isRangeExact ? 'from' : 'about from'} ${inbreedingWords(lowest)} to ${inbreedingWords(highest)}, as the possible parents allow`
            : 'whoever the possible parents are'}
        </span>
      </p>
      <p>{sentence}</p>
      {commonAncestors.length > 0 && (
        <WhyDrawer of="the inbreeding" label="Through whom">
          <WhyPart name="Forebears of both, with the part of F each brings">
            <EvidenceList
              lines={commonAncestors.map(({ animal, contribution }) => ({
                key: animal.id,
                finding: <AnimalLink programId={props.programId} animal={animal} />,
                moved: inbreedingWords(contribution),
              }))}
            />
          </WhyPart>
        </WhyDrawer>
      )}
    </>
  );
}
