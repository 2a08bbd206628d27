import { Link } from 'react-router';
import { SEX_WORDS } from '../../components/sex-shape.js';
import { addresses } from '../../lib/addresses.js';
import { AnimalDisc } from './animal-disc.js';
import type { Pen } from './pen-documents.js';
import { lengthIn } from './yard-time.js';

/** Pixels for a millimetre of shell: the same in every pen, so that sizes compare. */
const PER_MM = 0.11;
const LEAST_RADIUS = 12;
const NOT_MEASURED_MM = 150;

/** The animals of one pen near by, as discs by shell length, each with its code and a way to it. */
export function PenPlan(props: {
  readonly programId: string;
  readonly pen: Pen;
  readonly day: string;
  readonly years: number;
  /** Those in danger on the day shown. */
  readonly pressed: ReadonlySet<string>;
}) {
  const { day, years } = props;
  return (
    <ul className="pen-plan">
      {props.pen.animals.map((of) => {
        const { animal } = of;
        const isPressed = props.pressed.has(animal.id);
        const length = lengthIn(of, years);
        const radius = Math.max(LEAST_RADIUS, (length?.mm ?? NOT_MEASURED_MM) * PER_MM);
        const range = length?.range;
        const half = Math.max(radius, range ? range[1] * PER_MM : 0) + 3;
        return (
          <li key={animal.id}>
            <Link to={addresses.animal(props.programId, animal.id)}>
              <svg
                viewBox={`${-half} ${-half} ${2 * half} ${2 * half}`}
                width={2 * half}
                height={2 * half}
                aria-hidden="true"
              >
                <AnimalDisc
                  of={of}
                  day={day}
                  years={years}
                  radius={radius}
                  range={range ? [range[0] * PER_MM, range[1] * PER_MM] : null}
                  isPressed={isPressed}
                />
              </svg>
              <span className="code">{animal.code}</span>
              <span className="vh">
                , {SEX_WORDS[animal.sex.sex]}
                {isPressed && ', in danger then'}
              </span>
            </Link>
          </li>
        );
      })}
    </ul>
  );
}
