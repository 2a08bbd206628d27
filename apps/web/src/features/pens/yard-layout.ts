import type { Pen } from './pen-documents.js';

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A pen on the plan, in pixels. */
export interface PlacedPen {
  readonly pen: Pen;
  readonly outline: readonly Point[];
  /** The rectangle around it. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Drawn by its own corners; else only its area is right. */
  readonly isDrawn: boolean;
}

export interface YardLayout {
  readonly width: number;
  readonly height: number;
  readonly perMetre: number;
  readonly pens: readonly PlacedPen[];
}

/** Room over each pen for its name. */
const HEAD = 30;
const GAP = 18;
/** A pen whose area nobody recorded is drawn dashed, as large as this in square metres. */
const NO_AREA_M2 = 20;

/**
 * Pens to one scale in a plan so many pixels wide. Those with corners lie as they were drawn; below them, those that only have an area
 * stand in rows as rectangles of that area, the largest first.
 */
export function yardLayout(pens: readonly Pen[], width: number): YardLayout {
  const drawn = pens.filter(({ corners }) => corners.length >= 3);
  const others = pens.filter(({ corners }) => corners.length < 3);
  const xs = drawn.flatMap(({ corners }) => corners.map(({ x }) => x));
  const ys = drawn.flatMap(({ corners }) => corners.map(({ y }) => y));
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const sides = others
    .map((pen) => ({ pen, ...rectangle(pen.areaM2 ?? NO_AREA_M2, width) }))
    .toSorted((a, b) => b.wide * b.high - a.wide * a.high);
  const yard = sides.reduce((sum, { wide, high }) => sum + wide * high, 0);
  const metres = Math.max(
    drawn.length > 0 ? Math.max(...xs) - left : 0,
    Math.max(0, ...sides.map(({ wide }) => wide)),
    // Rows of rectangles leave gaps: a third more room than the ground itself.
    Math.sqrt(yard * (width > 600 ? 2.1 : 0.8)),
  );
  const perMetre = (width - 2 * GAP) / Math.max(1, metres);
  const placed: PlacedPen[] = drawn.map((pen) => {
    const outline = pen.corners.map(({ x, y }) => ({
      x: GAP + (x - left) * perMetre,
      y: HEAD + (y - top) * perMetre,
    }));
    return { pen, outline, ...around(outline), isDrawn: true };
  });
  let y = Math.max(0, ...placed.map((each) => each.y + each.height + GAP)) + HEAD;
  let x = GAP;
  let row = 0;
  for (const { pen, wide, high } of sides) {
    const [w, h] = [wide * perMetre, high * perMetre];
    if (x > GAP && x + w > width - GAP + 1) {
      x = GAP;
      y += row + GAP + HEAD;
      row = 0;
    }
    const outline = [
      { x, y },
      { x: x + w, y },
      { x: x + w, y: y + h },
      { x, y: y + h },
    ];
    placed.push({ pen, outline, x, y, width: w, height: h, isDrawn: false });
    x += w + GAP;
    row = Math.max(row, h);
  }
  const height = Math.max(HEAD, ...placed.map((each) => each.y + each.height)) + GAP;
  return { width, height, perMetre, pens: placed };
}

function rectangle(areaM2: number, width: number) {
  const wide = Math.sqrt(areaM2 * (width > 600 ? 1.5 : 1.2));
  return { wide, high: areaM2 / wide };
}

function around(outline: readonly Point[]) {
  const xs = outline.map(({ x }) => x);
  const ys = outline.map(({ y }) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}

/** Places for so many discs of a diameter in a pen, row by row; fewer where it has no room for all. */
export function spots(
  { x, y, width, height }: PlacedPen,
  diameter: number,
  count: number,
): Point[] {
  const step = diameter + 7;
  const across = Math.max(1, Math.floor((width - 8) / step));
  const down = Math.max(1, Math.floor((height - 8) / step));
  const asWide = Math.ceil(Math.sqrt((count * width) / Math.max(1, height)));
  const perRow = Math.max(Math.min(across, asWide), Math.min(across, Math.ceil(count / down)));
  const rows = Math.max(1, Math.min(down, Math.ceil(count / perRow)));
  // The lowest line is kept free for the numbers of what clashes.
  const [dx, dy] = [width / perRow, (height - 14) / rows];
  return Array.from({ length: Math.min(count, rows * perRow) }, (_, k) => ({
    x: x + dx * ((k % perRow) + 0.5),
    y: y + dy * (Math.floor(k / perRow) + 0.5),
  }));
}
