import {
  DEFAULT_PEN_SETTINGS,
  type PenFlag,
  penConflicts,
  readStays,
  type StayInput,
  type YardAnimal,
  type YardPen,
} from '@scutewright/housing';

export interface PensInput {
  readonly animals: readonly YardAnimal[];
  readonly pens: readonly YardPen[];
  readonly stays: readonly StayInput[];
  readonly from: number;
  readonly horizon: number;
  /** Relatedness of every two animals, row by row, in their order; NaN where nothing is recorded behind one. */
  readonly relatedness: Float64Array;
}

/** What the rules of pens find between two days. */
export function penConflictsTask(input: PensInput): PenFlag[] {
  const at = new Map(input.animals.map(({ id }, i) => [id, i]));
  const size = input.animals.length;
  return penConflicts({
    animals: input.animals,
    pens: input.pens,
    stays: readStays(input.stays, []),
    from: input.from,
    horizon: input.horizon,
    settings: DEFAULT_PEN_SETTINGS,
    kinship(a, b) {
      const value = input.relatedness[(at.get(a) ?? 0) * size + (at.get(b) ?? 0)];
      return Number.isNaN(value) ? null : value / 2;
    },
  });
}
