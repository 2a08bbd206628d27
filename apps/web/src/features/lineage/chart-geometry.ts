import type { LineageAnswer, PlacedPair } from './lineage-documents.js';
import { withAllParents } from './with-all-parents.js';

/** Width of a generation, height of a place, and space around, in units of the drawing. */
export const COLUMN = 250;
export const ROW = 46;
export const MARGIN = 46;
/** How far beyond its pair the line of a parent nobody recorded stands. */
const BEYOND = 24;
/** Where between two generations upright strokes stand: right of the labels, left of the probabilities. */
const UPRIGHT = 36;
const TRACK = 9;
/** Half the size of a symbol. */
export const HALF = 13;

export interface DrawnLine {
  readonly key: string;
  readonly path: string;
  /** 0 to 1; the young's own line is certain. */
  readonly probability: number;
  /** Where the probability is written, when it is less than 1. */
  readonly label: { readonly x: number; readonly y: number };
}

export interface DrawnPair {
  readonly key: string;
  /** The heights between which all its lines lie. */
  readonly from: number;
  readonly to: number;
  readonly lines: readonly DrawnLine[];
  /** The second stroke of related parents. */
  readonly double: string | null;
  /** What no recorded male, or female, accounts for: drawn dashed. */
  readonly nobody: readonly DrawnLine[];
}

/**
 * The lineage turned on its side: the youngest at the left, founders to the right. The kernel
 * places animals and lines; here every line is bent at right angles, and the upright strokes of
 * pairs between the same generations are set on tracks of their own, so that none hides another.
 */
export function chartGeometry(lineage: LineageAnswer, generationsBack: number) {
  const { generations, width, pairs, animals } = lineage;
  const whole = withAllParents(lineage, generationsBack);
  const sexOf = new Map(animals.map(({ animal }) => [animal.id, animal.sex.sex]));
  const tracks = pairTracks(pairs);
  const columns = columnLefts(generations, pairs, tracks);
  /** A pair stands between two generations: half a column left of its parents. */
  const left = (generation: number) =>
    Number.isInteger(generation)
      ? (columns[generation] ?? MARGIN)
      : (columns[generation - 0.5] ?? MARGIN) - COLUMN / 2;
  const top = (x: number) => MARGIN + x * ROW;
  /** From a pair through its stops: up or down only between generations, across through each stop. */
  const bent = (upright: number, x: number, stops: readonly Point[], step: number, end: number) =>
    `M${upright} ${top(x)}${stops
      .map((stop, n) => {
        const to = n === stops.length - 1 ? end : left(stop.generation + step) + UPRIGHT;
        return `V${top(stop.x)}H${to}`;
      })
      .join('')}`;
  return {
    width: left(0) + MARGIN + 150,
    height: MARGIN * 2 + Math.max(0, width - 1) * ROW,
    left,
    top,
    pairs: pairs.map((pair, k): DrawnPair => {
      const upright = left(pair.generation) + UPRIGHT - (tracks[k] ?? 0) * TRACK;
      const toYoung = pair.young.map(({ animalId, line }): DrawnLine => {
        const stops = stopsOf(line);
        const end = stops.at(-1) ?? pair;
        return {
          key: animalId,
          path: bent(upright, pair.x, stops, 0.5, left(end.generation) + HALF),
          probability: 1,
          label: { x: 0, y: 0 },
        };
      });
      const toParents = pair.parents.map(({ animalId, probability, line }): DrawnLine => {
        const stops = stopsOf(line.toReversed());
        const end = stops.at(-1) ?? pair;
        const x = left(end.generation) - HALF;
        return {
          key: animalId,
          path: bent(upright, pair.x, stops, -0.5, x),
          probability,
          label: { x: x - 6, y: top(end.x) - 7 },
        };
      });
      const ends = pair.parents.map(({ line }) => top(firstStop(line.toReversed())?.x ?? pair.x));
      const isWhole = pair.young.some(({ animalId }) => whole.has(animalId));
      const nobody = (['MALE', 'FEMALE'] as const).flatMap((sex): DrawnLine[] => {
        const known = pair.parents.filter(({ animalId }) => sexOf.get(animalId) === sex);
        const rest = 1 - known.reduce((sum, { probability }) => sum + probability, 0);
        // Rounding leaves crumbs that are nobody.
        if (known.length === 0 || rest < 0.0005 || !isWhole) return [];
        const out = sex === 'MALE' ? -BEYOND : BEYOND;
        const from = sex === 'MALE' ? Math.min(...ends) : Math.max(...ends);
        const x = left(pair.generation - 0.5) - HALF;
        return [
          {
            key: sex,
            path: `M${upright} ${from}V${from + out}H${x}`,
            probability: rest,
            label: { x, y: from + out + (sex === 'MALE' ? -5 : 15) },
          },
        ];
      });
      const heights = [...pair.parents, ...pair.young]
        .flatMap(({ line }) => line.map(({ x }) => x))
        .concat(pair.x)
        .map(top);
      return {
        nobody,
        from: Math.min(...heights) - BEYOND,
        to: Math.max(...heights) + BEYOND,
        key: `${pair.generation} ${pair.x}`,
        lines: [...toYoung, ...toParents],
        double: pair.isRelated ? `M${upright - 5} ${Math.min(...ends)}V${Math.max(...ends)}` : null,
      };
    }),
  };
}

/** Whether the whole drawing can be read on one sheet (some 680 by 870 of its units at full size); else its list is printed. */
export const fitsPaper = ({ generations, width }: LineageAnswer) =>
  generations * COLUMN <= 680 / 0.38 && width * ROW <= 870 / 0.38;

/** Tracks that find room between two generations before labels are run over. */
const ROOM = 6;

/** Where each generation stands, the last at the left: further apart where many uprights pass. */
function columnLefts(generations: number, pairs: readonly PlacedPair[], tracks: readonly number[]) {
  const lefts = Array<number>(generations).fill(MARGIN);
  for (let generation = generations - 2; generation >= 0; generation--) {
    const most = pairs.reduce(
      (most, pair, k) =>
        pair.generation === generation + 0.5 ? Math.max(most, tracks[k] ?? 0) : most,
      0,
    );
    lefts[generation] =
      (lefts[generation + 1] ?? MARGIN) + COLUMN + Math.max(0, most - ROOM) * TRACK;
  }
  return lefts;
}

type Point = PlacedPair['young'][number]['line'][number];

/** The points of a line, from its pair outwards, that stand in a generation, not between two. */
const stopsOf = (outwards: readonly Point[]) =>
  outwards.filter(({ generation }) => Number.isInteger(generation));

const firstStop = (outwards: readonly Point[]) => stopsOf(outwards)[0];

/** For each pair the lowest track on which its upright stroke meets no other of its generation. */
function pairTracks(pairs: readonly PlacedPair[]): number[] {
  const taken = new Map<number, { from: number; to: number; track: number }[]>();
  return pairs.map((pair) => {
    const places = [
      pair.x,
      ...pair.parents.map(({ line }) => firstStop(line.toReversed())?.x ?? pair.x),
      ...pair.young.map(({ line }) => firstStop(line)?.x ?? pair.x),
    ];
    const from = Math.min(...places);
    const to = Math.max(...places);
    const others = taken.get(pair.generation) ?? [];
    const meets = others.filter((one) => one.from <= to && from <= one.to);
    let track = 0;
    while (meets.some((one) => one.track === track)) track++;
    taken.set(pair.generation, [...others, { from, to, track }]);
    return track;
  });
}
