import { AnimalDisc } from './animal-disc.js';
import type { Clash } from './clashes.js';
import type { Pen, PenAnimal } from './pen-documents.js';
import { type PlacedPen, type Point, spots, yardLayout } from './yard-layout.js';
import { lengthIn } from './yard-time.js';

export interface YardPlanProps {
  readonly pens: readonly Pen[];
  readonly clashes: readonly Clash[];
  readonly day: string;
  readonly years: number;
  /** Where it begins, in words. */
  readonly when: string;
}

const WIDE = 900;
const NARROW = 356;
/** Diameter that an animal of middling length is drawn at. */
const MIDDLING = { [WIDE]: 26, [NARROW]: 17 } as Record<number, number>;
const NOT_MEASURED_MM = 150;

/** The yard to scale, its animals to a larger scale of their own, and what clashes as links between them. */
export function YardPlan(props: YardPlanProps) {
  return (
    <figure className="yard">
      <div className="only-wide">
        <Plan {...props} width={WIDE} />
      </div>
      <div className="only-narrow">
        <Plan {...props} width={NARROW} />
      </div>
    </figure>
  );
}

function Plan(props: YardPlanProps & { readonly width: number }) {
  const { pens, clashes, width, years } = props;
  const layout = yardLayout(pens, width);
  const lengths = pens
    .flatMap(({ animals }) => animals.map((animal) => lengthIn(animal, years)?.mm))
    .filter((mm) => mm !== undefined)
    .toSorted((a, b) => a - b);
  const middle = lengths[Math.floor(lengths.length / 2)] ?? NOT_MEASURED_MM;
  const times = Math.max(
    1,
    Math.round(((MIDDLING[width] ?? 20) * 1000) / (layout.perMetre * middle)),
  );
  const perMm = (layout.perMetre * times) / 1000;
  const bar = [1, 2, 5, 10, 20, 50].find((metres) => metres * layout.perMetre >= width / 10) ?? 50;
  const undrawn = layout.pens.some(({ isDrawn }) => !isDrawn);
  return (
    <>
      <svg
        viewBox={`0 0 ${width} ${layout.height + 30}`}
        role="img"
        aria-label={summary(props)}
        className="yard-plan"
      >
        {layout.pens.map((placed) => (
          <PenOnPlan
            key={placed.pen.id}
            {...props}
            placed={placed}
            perMm={perMm}
            clashes={clashes.filter(({ pen }) => pen.id === placed.pen.id)}
          />
        ))}
        <path className="scale" d={`M18 ${layout.height}v7h${bar * layout.perMetre}v-7`} />
        <text className="soft" x={26 + bar * layout.perMetre} y={layout.height + 10}>
          {bar} m
        </text>
      </svg>
      <figcaption>
        Pens to scale
        {undrawn && ', by area alone where nobody drew their outline'}; animals {times} times life
        size. Where each stands in its pen is not recorded.
      </figcaption>
    </>
  );
}

/** The plan in words, for those who hear the page; the list below says the same. */
function summary({ clashes, when }: YardPlanProps): string {
  if (clashes.length === 0) return `Yard plan, ${when}. Nothing presses.`;
  const said = clashes.map(
    ({ number, title, pen, animals }) =>
      `${number} in ${pen.name}, ${title}: ${animals.map(({ code }) => code).join(', ')}`,
  );
  return `Yard plan, ${when}. ${said.join('; ')}.`;
}

interface PenOnPlanProps extends YardPlanProps {
  readonly placed: PlacedPen;
  readonly perMm: number;
  readonly width: number;
}

function PenOnPlan(props: PenOnPlanProps) {
  const { placed, perMm, clashes, day, years, width } = props;
  const { pen, outline, x, y } = placed;
  const pressed = new Set(clashes.flatMap(({ animals }) => animals.map(({ id }) => id)));
  // Those that clash stand first, so that their links are short.
  const order = new Map([...pressed].map((id, at) => [id, at]));
  const animals = pen.animals.toSorted(
    (a, b) => (order.get(a.animal.id) ?? 1e9) - (order.get(b.animal.id) ?? 1e9),
  );
  const radius = (animal: PenAnimal) =>
    Math.max(4, ((lengthIn(animal, years)?.mm ?? NOT_MEASURED_MM) * perMm) / 2);
  const largest = Math.max(10, ...animals.map((animal) => 2 * radius(animal))) + 6;
  const places = spots(placed, largest, animals.length);
  const isFull = places.length < animals.length;
  const shown = isFull ? animals.slice(0, Math.max(0, places.length - 1)) : animals;
  const perRow = places.filter((place) => place.y === places[0]?.y).length;
  const at = new Map(shown.map((animal, k) => [animal.animal.id, places[k] as Point]));
  const name = shortened(pen.name, placed.width, width);
  return (
    <g>
      <path
        className={pen.areaM2 === null ? 'ground no-area' : 'ground'}
        d={`M${outline.map((point) => `${point.x.toFixed(1)} ${point.y.toFixed(1)}`).join('L')}Z`}
      />
      <text className="pen-name" x={x + 1} y={y - 9}>
        {name}
      </text>
      {placed.width > 150 && (
        <text className="soft" x={x + placed.width - 1} y={y - 9} textAnchor="end">
          {pen.areaM2 === null ? 'no area' : `${pen.areaM2} m²`}
        </text>
      )}
      {clashes.map((clash) => (
        <Links key={clash.key} clash={clash} at={at} />
      ))}
      {shown.map((animal) => {
        const place = at.get(animal.animal.id) as Point;
        const range = lengthIn(animal, years)?.range;
        const label = pressed.has(animal.animal.id)
          ? labelOf(animal.animal.code, placed.width / Math.max(1, perRow))
          : null;
        return (
          <g
            key={animal.animal.id}
            transform={`translate(${place.x.toFixed(1)} ${place.y.toFixed(1)})`}
          >
            <AnimalDisc
              of={animal}
              day={day}
              years={years}
              radius={radius(animal)}
              range={range ? [(range[0] * perMm) / 2, (range[1] * perMm) / 2] : null}
              isPressed={pressed.has(animal.animal.id)}
            />
            {label && (
              <text className="of-disc" y={radius(animal) + 17} textAnchor="middle">
                {label}
              </text>
            )}
          </g>
        );
      })}
      {isFull && <More place={places.at(-1)} count={animals.length - shown.length} />}
      {clashes.map((clash, k) => (
        <Plate key={clash.key} clash={clash} x={x + 14 + 30 * k} y={y + placed.height} />
      ))}
    </g>
  );
}

/** Fewer pairs than this are linked one by one; more as a chain through all of them. */
const FEW = 5;

function Links({ clash, at }: { readonly clash: Clash; readonly at: ReadonlyMap<string, Point> }) {
  const pairs = clash.flags.filter(({ animals }) => animals.length === 2);
  const ends =
    pairs.length < FEW
      ? pairs.map(({ animals }) => animals.map(({ id }) => id))
      : clash.animals.slice(1).map(({ id }, k) => [clash.animals[k]?.id ?? '', id]);
  const lines = ends.flatMap(([a = '', b = '']) => {
    const [from, to] = [at.get(a), at.get(b)];
    return from && to ? [zigzag(from, to)] : [];
  });
  return (
    <path className={clash.severity === 'DANGER' ? 'clash' : 'clash warning'} d={lines.join('')} />
  );
}

/** A line that nobody takes for a fence. */
function zigzag(from: Point, to: Point): string {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const teeth = Math.max(2, Math.round(length / 14));
  const points = Array.from({ length: teeth - 1 }, (_, k) => {
    const t = (k + 1) / teeth;
    const side = (k % 2 === 0 ? 4.5 : -4.5) / Math.max(1, length);
    return `L${(from.x + dx * t - dy * side).toFixed(1)} ${(from.y + dy * t + dx * side).toFixed(1)}`;
  });
  return `M${from.x.toFixed(1)} ${from.y.toFixed(1)}${points.join('')}L${to.x.toFixed(1)} ${to.y.toFixed(1)}`;
}

/** The number of a clash, as in the list. */
function Plate({ clash, x, y }: { readonly clash: Clash; readonly x: number; readonly y: number }) {
  return (
    <g className="plate-of" transform={`translate(${x} ${y})`}>
      <path d="M0-13 11.3-6.5V6.5L0 13-11.3 6.5V-6.5Z" />
      <text y="5.5" textAnchor="middle">
        {clash.number}
      </text>
    </g>
  );
}

/** One disc for those there is no room to draw. */
function More({ place, count }: { readonly place: Point | undefined; readonly count: number }) {
  if (!place) return null;
  return (
    <g className="more" transform={`translate(${place.x.toFixed(1)} ${place.y.toFixed(1)})`}>
      <circle r="17" />
      <text y="5.5" textAnchor="middle">
        +{count}
      </text>
    </g>
  );
}

/** The code, or its last digits, as the room beside the next disc allows. */
function labelOf(code: string, room: number): string | null {
  if (code.length * 8.5 < room) return code;
  const tail = /\d+$/.exec(code)?.[0];
  return tail && tail.length * 8.5 < room ? tail : null;
}

/** A name cut to the width of its pen: about eight pixels a letter. */
function shortened(name: string, width: number, plan: number): string {
  const room = Math.max(
    4,
    Math.floor((width - (width > 150 ? 70 : 0)) / (plan === WIDE ? 8.5 : 8)),
  );
  return name.length <= room ? name : `${name.slice(0, room - 1)}…`;
}
