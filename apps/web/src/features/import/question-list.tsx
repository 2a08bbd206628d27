import type { FileLook, ImportAnswer, ImportQuestion } from './import-documents.js';

const KIND_WORDS: Record<string, string> = {
  TRAIT: 'trait',
  LOCUS: 'gene',
  PEN: 'pen',
  SPECIES: 'species',
};

/** The order in which they are asked: what answers rest on first. */
const KINDS = ['TRAIT', 'LOCUS', 'SPECIES', 'PEN'];

export const isAnswerTo = (answer: ImportAnswer, question: ImportQuestion) =>
  answer.kind === question.kind && answer.name === question.name;

/** Names of the file that the program does not know, those that are settled too; that the species is missing is asked apart. */
export function askedNames(look: FileLook): ImportQuestion[] {
  return [...look.questions, ...look.answered]
    .filter(({ kind }) => kind !== 'NO_SPECIES')
    .toSorted(
      (a, b) =>
        KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) ||
        a.firstLine - b.firstLine ||
        (a.name < b.name ? -1 : 1),
    );
}

/** Those that must be answered before writing: a species may stand as it is written. */
export const openNames = (questions: readonly ImportQuestion[], answers: readonly ImportAnswer[]) =>
  questions.filter(
    (question) =>
      question.kind !== 'SPECIES' && !answers.some((answer) => isAnswerTo(answer, question)),
  );

/** What the file names and the program does not know: one question each, with what would be made. */
export function QuestionList(props: {
  readonly questions: readonly ImportQuestion[];
  readonly known: FileLook['known'];
  readonly answers: readonly ImportAnswer[];
  readonly onAnswers: (answers: readonly ImportAnswer[]) => void;
}) {
  const { questions, answers } = props;
  const open = openNames(questions, answers);
  const answer = (question: ImportQuestion, next: ImportAnswer | null) => {
    const others = answers.filter((each) => !isAnswerTo(each, question));
    props.onAnswers(next ? [...others, next] : others);
  };
  return (
    <>
      {open.length > 0 && (
        <p className="acts">
          <button
            type="button"
            className="act line"
            onClick={() => props.onAnswers([...answers, ...open.map(makeIt)])}
          >
            {open.length === 1
              ? 'Make it as proposed'
              : `Make the ${open.length} that are open as proposed`}
          </button>
        </p>
      )}
      <ul className="rows questions">
        {questions.map((question) => (
          <Question
            key={`${question.kind} ${question.name}`}
            question={question}
            names={namesOf(props.known, question)}
            answer={answers.find((each) => isAnswerTo(each, question))}
            onAnswer={(next) => answer(question, next)}
          />
        ))}
      </ul>
    </>
  );
}

const makeIt = ({ kind, name }: ImportQuestion): ImportAnswer => ({
  kind: kind as ImportAnswer['kind'],
  name,
  act: 'MAKE',
});

/** Names it may stand for, those it may be a slip for first. */
function namesOf(known: FileLook['known'], { kind, nearest }: ImportQuestion): string[] {
  const all =
    { TRAIT: known.traits, LOCUS: known.loci, PEN: known.pens, SPECIES: known.species }[kind] ?? [];
  return [...nearest, ...all.filter((name) => !nearest.includes(name))];
}

function Question(props: {
  readonly question: ImportQuestion;
  readonly names: readonly string[];
  readonly answer: ImportAnswer | undefined;
  readonly onAnswer: (answer: ImportAnswer | null) => void;
}) {
  const { question, names } = props;
  const what = KIND_WORDS[question.kind] ?? question.kind;
  // Once it is said how it is inherited, the proposal is the answer's.
  const isSaid = props.answer?.mode !== undefined && props.answer.mode !== null;
  const choices = choicesOf(question, names, isSaid);
  const chosen = choices.findIndex(
    ({ answer }) =>
      answer.act === props.answer?.act &&
      (answer.use ?? null) === (props.answer.use ?? null) &&
      // Made as proposed: the choice that the proposal stands for.
      (answer.mode ?? null) === (props.answer.mode ?? (answer.mode ? question.mode : null) ?? null),
  );
  return (
    <li>
      <span>
        {what} <b>{question.name}</b>{' '}
        <span className="small soft">
          {question.animals} {question.animals === 1 ? 'animal' : 'animals'}, first in line{' '}
          {question.firstLine}
        </span>
      </span>
      <span className="proposal">
        <select
          aria-label={`What to do with the ${what} ${question.name}`}
          value={chosen < 0 ? (question.kind === 'SPECIES' ? '0' : '') : String(chosen)}
          onChange={(event) => {
            const at = event.target.value;
            props.onAnswer(at === '' ? null : (choices[Number(at)]?.answer ?? null));
          }}
        >
          {question.kind !== 'SPECIES' && <option value="">Choose</option>}
          {choices.map(({ words }, at) => (
            <option key={words} value={at}>
              {words}
            </option>
          ))}
        </select>
        {question.proposal && (
          <span className="small block">
            {isSaid ? 'As you say' : 'Proposed'}: {question.proposal}
          </span>
        )}
        {question.nearest.length > 0 && (
          <b className="slip small"> Or a slip for {question.nearest.join(' or ')}?</b>
        )}
      </span>
    </li>
  );
}

function choicesOf(
  question: ImportQuestion,
  names: readonly string[],
  isSaid: boolean,
): { readonly words: string; readonly answer: ImportAnswer }[] {
  const make = makeIt(question);
  const what = KIND_WORDS[question.kind] ?? question.kind;
  const proposed = (mode: string) => (question.mode === mode && !isSaid ? ', as proposed' : '');
  const making =
    question.mode === null
      ? [{ words: question.kind === 'SPECIES' ? 'Take it as written' : 'Make it', answer: make }]
      : [
          {
            words: `Make it: two copies show it${proposed('RECESSIVE')}`,
            answer: { ...make, mode: 'RECESSIVE' as const },
          },
          {
            words: `Make it: one copy shows it${proposed('DOMINANT')}`,
            answer: { ...make, mode: 'DOMINANT' as const },
          },
        ];
  return [
    ...making,
    ...names.map((use) => ({
      words: `It is the ${what} ${use}`,
      answer: { ...make, act: 'USE' as const, use },
    })),
    { words: 'Leave it out of the file', answer: { ...make, act: 'LEAVE_OUT' as const } },
  ];
}
