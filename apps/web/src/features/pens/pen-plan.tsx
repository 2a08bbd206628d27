import { SEX_WORDS } from '../../components/sex-shape.js';
import type { Pen } from './pen-documents.js';

const WIDTH = 600;
/** Units of the drawing for a millimetre of shell: the same in every pen. */
const PER_MM = 0.11;
const LEAST_RADIUS = 12;
const NOT_MEASURED_MM = 150;

/**
 * The animals of one pen as discs by length, in the order of the register. Where each stands in
 * the pen is not recorded, and the caption says so.
 */
export function PenPlan(props: { readonly pen: Pen; readonly pressed: ReadonlySet<string> }) {
  const { pen, pressed } = props;
  const radius = (mm: number | null) => Math.max(LEAST_RADIUS, (mm ?? NOT_MEASURED_MM) * PER_MM);
  const widest = Math.max(LEAST_RADIUS, ...pen.animals.map(({ sclMm }) => radius(sclMm)));
  const columns = Math.floor(WIDTH / Math.max(2 * widest + 14, 84));
  const rowHeight = 2 * widest + 36;
  const height = Math.ceil(pen.animals.length / columns) * rowHeight + 16;
  return (
    <svg
      className="pen-plan"
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-label={`${pen.name}: ${pen.animals.map(({ animal }) => `${animal.code}, ${SEX_WORDS[animal.sex.sex]}`).join('; ') || 'nobody'}`}
    >
      <rect
        className={pen.areaM2 === null ? 'ground unknown' : 'ground'}
        x="1"
        y="1"
        width={WIDTH - 2}
        height={height - 2}
      />
      {pen.animals.map(({ animal, sclMm, canConflict }, k) => {
        const x = ((k % columns) + 0.5) * (WIDTH / columns);
        const y = 12 + widest + Math.floor(k / columns) * rowHeight;
        const r = radius(sclMm);
        const s = Math.min(9, r / 2);
        const kind = [
          pressed.has(animal.id) && 'pressed',
          canConflict && 'grown',
          sclMm === null && 'unmeasured',
        ];
        return (
          <g
            key={animal.id}
            className={kind.filter(Boolean).join(' ')}
            transform={`translate(${x} ${y})`}
          >
            <circle className="disc" r={r} />
            {animal.sex.sex === 'MALE' && (
              <rect className="sex" x={-s} y={-s} width={2 * s} height={2 * s} />
            )}
            {animal.sex.sex === 'FEMALE' && <circle className="sex" r={s} />}
            {animal.sex.sex === 'UNKNOWN' && (
              <path className="sex" d={`M0 ${-s}L${s} 0L0 ${s}L${-s} 0Z`} />
            )}
            <text y={r + 19} textAnchor="middle">
              {animal.code}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
