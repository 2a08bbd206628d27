import { Band } from '../../components/band.js';
import { GrowthLines } from '../../components/growth-lines.js';
import { RecordLines } from '../../components/record-lines.js';
import type { Sex } from '../../components/sex-shape.js';
import { WriteLink } from '../../components/write-link.js';
import { useProgram } from '../../lib/program-context.js';
import './write.css';

interface Act {
  readonly form: string;
  readonly words: string;
  /** The field of the form that takes the animal. */
  readonly field: string;
  readonly of?: Sex;
}

const ACTS: readonly Act[] = [
  { form: 'measured', words: 'Weigh or measure', field: 'animal' },
  { form: 'colour', words: 'Colour check', field: 'animal' },
  { form: 'move', words: 'Move', field: 'animals' },
  { form: 'seen', words: 'Seen', field: 'animals' },
  { form: 'laid', words: 'Eggs laid', field: 'dams', of: 'FEMALE' },
  { form: 'mating', words: 'Mating seen', field: 'female', of: 'FEMALE' },
  { form: 'mating', words: 'Mating seen', field: 'male', of: 'MALE' },
  { form: 'sexed', words: 'Sex told', field: 'animal', of: 'UNKNOWN' },
  { form: 'health', words: 'Health', field: 'animal' },
  { form: 'incident', words: 'Fight, fall or wound', field: 'animal' },
  { form: 'marked', words: 'Mark or chip', field: 'animal' },
  { form: 'tested', words: 'DNA test', field: 'animal' },
  { form: 'stayed', words: 'Was in a pen', field: 'animals' },
  { form: 'left', words: 'Left', field: 'animal' },
  { form: 'escaped', words: 'Escaped', field: 'animal' },
  { form: 'died', words: 'Died', field: 'animal' },
  { form: 'noted', words: 'Note', field: 'animal' },
];

/** What to write about an animal, how it has grown, and all that was written. */
export function AnimalRecords(props: {
  readonly animal: { readonly id: string; readonly code: string; readonly sex: { sex: Sex } };
}) {
  const program = useProgram();
  const { animal } = props;
  return (
    <>
      {program.mayWrite && (
        <Band title="Write down" note="What happened to it, in one small form each.">
          <ul className="write-acts">
            {ACTS.filter(({ of }) => !of || of === animal.sex.sex).map(({ form, words, field }) => (
              <li key={form + field}>
                <WriteLink programId={program.id} form={form} given={{ [field]: animal.code }}>
                  {words}
                </WriteLink>
              </li>
            ))}
          </ul>
        </Band>
      )}
      <Band title="Growth" note="Against its own past and its clutch mates.">
        <GrowthLines programId={program.id} animalId={animal.id} code={animal.code} />
      </Band>
      <Band title="Records" note="What was seen, told, measured or done, latest first.">
        <RecordLines
          programId={program.id}
          id={animal.id}
          none="Nothing is written yet but what stands above."
        />
      </Band>
    </>
  );
}
