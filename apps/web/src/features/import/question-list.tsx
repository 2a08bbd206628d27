import type { ImportQuestion } from './import-documents.js';

const KIND_WORDS: Record<string, string> = {
  TRAIT: 'trait',
  LOCUS: 'gene',
  PEN: 'pen',
  SPECIES: 'species',
};

/** What the file names and the program does not know, each with how it would be made. */
export function QuestionList(props: {
  readonly questions: readonly ImportQuestion[];
  readonly yes: boolean;
  readonly onYes: (yes: boolean) => void;
}) {
  return (
    <>
      <ul className="rows questions">
        {props.questions.map((question) => (
          <li key={`${question.kind} ${question.name}`}>
            <span>
              {KIND_WORDS[question.kind] ?? question.kind} <b>{question.name}</b>{' '}
              <span className="small soft">
                {question.animals} {question.animals === 1 ? 'animal' : 'animals'}, first in line{' '}
                {question.firstLine}
              </span>
            </span>
            <span className="proposal">
              {question.proposal}
              {question.nearest.length > 0 && (
                <b className="slip"> Or a slip for {question.nearest.join(' or ')}?</b>
              )}
            </span>
          </li>
        ))}
      </ul>
      <label className="tick">
        <input
          type="checkbox"
          checked={props.yes}
          onChange={(event) => props.onYes(event.target.checked)}
        />
        <b>Yes, make them so.</b>
      </label>
    </>
  );
}
