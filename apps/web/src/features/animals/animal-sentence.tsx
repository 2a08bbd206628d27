import { Code } from '../../components/code.js';
import { chanceWords } from '../../lib/chance-words.js';
import { ageWords, partialDateWords } from '../../lib/date-words.js';
import type { AnimalDetail, ParentFinding } from './animal-documents.js';

/** What an animal is, as one would say it aloud. */
export function AnimalSentence(props: { readonly animal: AnimalDetail; readonly today: Date }) {
  const { sex, hatched, dam, sire } = props.animal;
  const what = {
    FEMALE: 'A female',
    MALE: 'A male',
    UNKNOWN: 'An animal not yet sexed',
  }[sex.sex];
  const their = { FEMALE: 'her', MALE: 'his', UNKNOWN: 'its' }[sex.sex];
  const age = hatched && ageWords(hatched, props.today);
  return (
    <>
      {what}
      {hatched ? (
        <>
          , hatched {partialDateWords(hatched)}
          {age && `, ${age} ago`}
        </>
      ) : (
        ', year of hatching not known'
      )}
      .{' '}
      {dam.candidates.length === 0 && sire.candidates.length === 0 ? (
        <>Nothing is recorded of {their} parents.</>
      ) : (
        <>
          {their[0]?.toUpperCase() + their.slice(1)} mother is <Parent finding={dam} />, {their}{' '}
          father <Parent finding={sire} />.
        </>
      )}
    </>
  );
}

function Parent({ finding }: { readonly finding: ParentFinding }) {
  const [best] = finding.candidates;
  if (!best) return <>not recorded</>;
  if (best.probability >= 1) {
    return (
      <b>
        <Code code={best.animal.code} name={best.animal.name} />
      </b>
    );
  }
  return (
    <>
      most likely <Code code={best.animal.code} name={best.animal.name} />,{' '}
      <b>{chanceWords(best.probability)}</b>
    </>
  );
}
