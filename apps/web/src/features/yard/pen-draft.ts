import type { FormFault } from '../../components/error-summary.js';
import type { YardPen } from './yard-documents.js';

/** What the form of a pen holds, as typed. */
export interface PenDraft {
  readonly name: string;
  readonly areaM2: string;
  readonly capacity: string;
  readonly isQuarantine: boolean;
  readonly features: string;
  /** `12,5` as `x,y` a line; in metres on the plan of the yard. */
  readonly corners: string;
  readonly sharesFenceWith: readonly string[];
}

export const EMPTY_PEN: PenDraft = {
  name: '',
  areaM2: '',
  capacity: '',
  isQuarantine: false,
  features: '',
  corners: '',
  sharesFenceWith: [],
};

export function draftOfPen(pen: YardPen): PenDraft {
  return {
    name: pen.name,
    areaM2: pen.areaM2 === null ? '' : String(pen.areaM2),
    capacity: pen.capacity === null ? '' : String(pen.capacity),
    isQuarantine: pen.isQuarantine,
    features: pen.features.join(', '),
    corners: pen.corners.map(({ x, y }) => `${x} ${y}`).join('\n'),
    sharesFenceWith: pen.sharesFenceWith,
  };
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The corners of `0 0`, `8 0`, one a line; null where a line is no corner. */
export function cornersIn(text: string): Point[] | null {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
  const points = lines.map((line) => {
    const parts = /^\s*(-?\d+(?:\.\d+)?)[\s,;]+(-?\d+(?:\.\d+)?)\s*$/.exec(line);
    return parts && { x: Number(parts[1]), y: Number(parts[2]) };
  });
  return points.every((point) => point !== null) ? points : null;
}

/** A rectangle's corners as text, its near left corner at `x`, `y`. */
export function rectangle(x: number, y: number, long: number, wide: number): string {
  const round = (value: number) => Number(value.toFixed(2));
  return [
    [x, y],
    [x + long, y],
    [x + long, y + wide],
    [x, y + wide],
  ]
    .map((corner) => corner.map(round).join(' '))
    .join('\n');
}

export function penFaults(draft: PenDraft): FormFault[] {
  const faults: FormFault[] = [];
  if (!draft.name.trim()) faults.push({ field: 'pen-name', message: 'Give the pen a name.' });
  if (draft.areaM2.trim() && numberIn(draft.areaM2) === null) {
    faults.push({ field: 'pen-areaM2', message: 'Write the area as a number of square metres.' });
  }
  if (draft.capacity.trim() && !/^\d+$/.test(draft.capacity.trim())) {
    faults.push({ field: 'pen-capacity', message: 'Write how many animals it is meant for.' });
  }
  const corners = cornersIn(draft.corners);
  if (corners === null || corners.length === 1 || corners.length === 2) {
    faults.push({
      field: 'pen-corners',
      message: 'Write at least three corners, one a line, each as two numbers in metres.',
    });
  }
  return faults;
}

/** The fields of the input as the draft has them. */
export function penInput(draft: PenDraft) {
  return {
    name: draft.name.trim(),
    areaM2: numberIn(draft.areaM2),
    capacity: draft.capacity.trim() ? Number(draft.capacity) : null,
    isQuarantine: draft.isQuarantine,
    features: draft.features
      .split(',')
      .map((feature) => feature.trim())
      .filter(Boolean),
    corners: cornersIn(draft.corners) ?? [],
    sharesFenceWith: [...draft.sharesFenceWith],
  };
}

function numberIn(text: string): number | null {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && value > 0 ? value : null;
}
