import { Link } from 'react-router';
import { SEX_WORDS } from '../../components/sex-shape.js';
import { addresses } from '../../lib/addresses.js';
import type { Pen } from './pen-documents.js';

/** Pixels for a millimetre of shell: the same in every pen, so that sizes compare. */
const PER_MM = 0.11;
const LEAST_RADIUS = 12;
const NOT_MEASURED_MM = 150;

/**
 * The animals of one pen as discs by shell length. Where each stands in the pen is not recorded,
 * so they stand in the order of the register.
 */
export function PenPlan(props: {
  readonly programId: string;
  readonly pen: Pen;
  /** Those in danger now. */
  readonly pressed: ReadonlySet<string>;
}) {
  return (
    <ul className="pen-plan">
      {props.pen.animals.map(({ animal, sclMm, canConflict }) => {
        const sex = animal.sex.sex;
        const isPressed = props.pressed.has(animal.id);
        const kind = [
          'disc',
          isPressed && 'pressed',
          canConflict && 'grown',
          sclMm === null && 'unmeasured',
        ];
        return (
          <li key={animal.id}>
            <Link to={addresses.animal(props.programId, animal.id)}>
              <Disc
                kind={kind.filter(Boolean).join(' ')}
                sex={sex}
                radius={Math.max(LEAST_RADIUS, (sclMm ?? NOT_MEASURED_MM) * PER_MM)}
              />
              <span className="code">{animal.code}</span>
              <span className="vh">
                , {SEX_WORDS[sex]}
                {isPressed && ', in danger now'}
              </span>
            </Link>
          </li>
        );
      })}
    </ul>
  );
}

function Disc(props: { readonly kind: string; readonly sex: string; readonly radius: number }) {
  const { sex, radius } = props;
  const s = Math.min(9, radius / 2);
  const half = radius + 3;
  return (
    <svg
      className={props.kind}
      viewBox={`${-half} ${-half} ${2 * half} ${2 * half}`}
      width={2 * half}
      height={2 * half}
      aria-hidden="true"
    >
      <circle className="outline" r={radius} />
      {sex === 'MALE' && <rect className="sex" x={-s} y={-s} width={2 * s} height={2 * s} />}
      {sex === 'FEMALE' && <circle className="sex" r={s} />}
      {sex === 'UNKNOWN' && <path className="sex" d={`M0 ${-s}L${s} 0L0 ${s}L${-s} 0Z`} />}
    </svg>
  );
}
