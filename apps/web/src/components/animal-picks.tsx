import { AnimalFinder, type FoundAnimal } from './animal-finder.js';
import './animal-picks.css';

/**
 * One animal or several, by their codes: completed as typed, or a whole list pasted. `id` is the control's.
 */
export function AnimalPicks(props: {
  readonly id: string;
  readonly programId: string;
  readonly label: string;
  readonly hint?: string;
  readonly fault?: string;
  readonly codes: readonly string[];
  /** Takes the place of the last one instead of joining it. */
  readonly isSingle?: boolean;
  readonly isOut?: (animal: FoundAnimal) => boolean;
  readonly onChange: (codes: readonly string[]) => void;
  /** Where the id is needed: one is taken from the list only, and not by its code. */
  readonly onPick?: (animal: FoundAnimal) => void;
}) {
  const { codes, isSingle, onChange } = props;
  const add = (more: readonly string[]) =>
    onChange(isSingle ? more.slice(0, 1) : [...new Set([...codes, ...more])]);
  return (
    <div className="animal-picks">
      <AnimalFinder
        id={props.id}
        programId={props.programId}
        label={props.label}
        hint={props.hint}
        fault={props.fault}
        placeholder={
          codes.length === 0 ? 'Code or name' : isSingle ? 'Another instead' : 'One more'
        }
        isOut={(animal) => codes.includes(animal.code) || (props.isOut?.(animal) ?? false)}
        onPick={props.onPick ?? (({ code }) => add([code]))}
        onEnterText={props.onPick ? undefined : (text) => add(codesIn(text))}
        onLeave={props.onPick ? undefined : (text) => add(codesIn(text))}
      />
      {codes.length > 0 && (
        <ul className="picked" aria-label={`${props.label}: chosen`}>
          {codes.map((code) => (
            <li key={code}>
              <span className="code">{code}</span>
              <button
                type="button"
                aria-label={`Take out ${code}`}
                onClick={() => onChange(codes.filter((each) => each !== code))}
              >
                <svg viewBox="0 0 20 20" aria-hidden="true">
                  <path d="M5 5L15 15M15 5L5 15" />
                </svg>
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** `F1, F2; F3` or a pasted column as codes. */
export const codesIn = (text: string): string[] => [
  ...new Set(text.split(/[\s,;]+/).filter(Boolean)),
];
