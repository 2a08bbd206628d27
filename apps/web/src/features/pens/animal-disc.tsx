import type { PenAnimal } from './pen-documents.js';
import { growthOn, lengthIn } from './yard-time.js';

export interface DiscProps {
  readonly of: PenAnimal;
  readonly day: string;
  readonly years: number;
  readonly radius: number;
  /** Radii of what its length may be then. */
  readonly range: readonly [number, number] | null;
  readonly isPressed: boolean;
}

/** An animal from above, round about the origin: size by length, mark by sex, filled as it is grown. */
export function AnimalDisc({ of, day, years, radius, range, isPressed }: DiscProps) {
  const sex = of.animal.sex.sex;
  const s = Math.min(9, radius / 2.1);
  const kind = [
    'disc',
    isPressed && 'pressed',
    growthOn(of, day),
    lengthIn(of, years) === null && 'unmeasured',
  ];
  return (
    <g className={kind.filter(Boolean).join(' ')}>
      <circle className="outline" r={radius} />
      {range && <circle className="may-be" r={range[1]} />}
      {range && <circle className="may-be" r={range[0]} />}
      {sex === 'MALE' && <rect className="sex" x={-s} y={-s} width={2 * s} height={2 * s} />}
      {sex === 'FEMALE' && <circle className="sex" r={s} />}
      {sex === 'UNKNOWN' && <path className="sex" d={`M0 ${-s}L${s} 0L0 ${s}L${-s} 0Z`} />}
      {growthOn(of, day) === 'perhaps' && <HalfMark sex={sex} s={s} />}
    </g>
  );
}

/** The lower half of the mark: it may be grown. */
function HalfMark({ sex, s }: { readonly sex: string; readonly s: number }) {
  if (sex === 'MALE') return <rect className="half" x={-s} y={0} width={2 * s} height={s} />;
  if (sex === 'FEMALE') return <path className="half" d={`M${-s} 0A${s} ${s} 0 0 0 ${s} 0Z`} />;
  return <path className="half" d={`M${-s} 0L0 ${s}L${s} 0Z`} />;
}
