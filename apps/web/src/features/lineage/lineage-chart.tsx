import { type KeyboardEvent, memo, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { Link } from 'react-router';
import { SEX_WORDS } from '../../components/sex-shape.js';
import { addresses } from '../../lib/addresses.js';
import { chanceWords } from '../../lib/chance-words.js';
import { chartGeometry, type DrawnPair, fitsPaper, HALF, ROW } from './chart-geometry.js';
import type { LineageAnswer, PlacedAnimal } from './lineage-documents.js';
import { useSight } from './use-sight.js';
import { useZoom, type Zoom } from './use-zoom.js';
import { nextInWalk } from './walk.js';

/** Units of the drawing for a rem: it grows with the type of the theme. */
const ROOT = 17;

/**
 * The pedigree chart: squares, circles and diamonds after the published standard (Bennett and
 * others 2008, doi 10.1007/s10897-008-9169-9), line weight for probability. Arrow keys walk,
 * Enter opens.
 */
export function LineageChart(props: {
  readonly programId: string;
  readonly lineage: LineageAnswer;
  /** How many generations back were asked for. */
  readonly back: number;
}) {
  const { programId, lineage } = props;
  const drawn = useMemo(() => chartGeometry(lineage, props.back), [lineage, props.back]);
  const [at, setAt] = useState(lineage.animal.id);
  const svg = useRef<SVGSVGElement>(null);
  const founders = useMemo(
    () => new Set(lineage.founders.map(({ animal }) => animal.id)),
    [lineage],
  );
  const zoom = useZoom(svg);
  const sight = useSight(svg, drawn.height);
  // What fits a sheet is drawn whole: it may be printed.
  const isWhole = fitsPaper(lineage);
  const pairs = useMemo(
    () =>
      isWhole
        ? drawn.pairs
        : drawn.pairs.filter(({ from, to }) => from <= sight.to && to >= sight.from),
    [drawn, isWhole, sight],
  );
  const isDrawn = ({ animal, x }: PlacedAnimal) => {
    const y = drawn.top(x);
    return isWhole || animal.id === at || (y + ROW > sight.from && y - ROW < sight.to);
  };
  // A chart higher than the window opens where the animal asked for stands.
  useLayoutEffect(() => {
    const frame = svg.current?.parentElement;
    const placed = lineage.animals.find(({ animal }) => animal.id === lineage.animal.id);
    if (isWhole || !frame || !placed) return;
    const unit = frame.scrollWidth / drawn.width;
    frame.scrollTo(
      (drawn.left(placed.generation) - ROW) * unit,
      drawn.top(placed.x) * unit - frame.clientHeight / 2,
    );
  }, [lineage, drawn, isWhole]);
  const walk = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const size = { '+': zoom.larger, '=': zoom.larger, '-': zoom.smaller }[event.key];
    if (size) {
      event.preventDefault();
      return size();
    }
    const next = nextInWalk(lineage, at, event.key);
    if (!next) return;
    event.preventDefault();
    // Drawn before it can take the focus: it may stand far out of sight.
    flushSync(() => setAt(next));
    svg.current?.querySelector<SVGElement>(`[data-animal="${next}"]`)?.focus();
  };
  return (
    <>
      <ZoomBar zoom={zoom} />
      {/* A wide chart is scrolled by keys too, so it takes the focus. */}
      <section
        className={isWhole ? 'scroll chart' : 'scroll chart high'}
        aria-label="Pedigree chart"
        tabIndex={-1}
      >
        <svg
          ref={svg}
          viewBox={`0 0 ${drawn.width} ${drawn.height}`}
          style={{ width: `${(drawn.width / ROOT) * zoom.drawn}rem` }}
          aria-label={`Lineage of ${lineage.animal.code}: ${lineage.animals.length} animals. Arrow keys walk from one to another; the same stands below as a list.`}
          onKeyDown={walk}
        >
          <PairLines pairs={pairs} />
          {lineage.animals.filter(isDrawn).map((placed) => (
            <DrawnAnimal
              key={placed.animal.id}
              programId={programId}
              placed={placed}
              x={drawn.left(placed.generation)}
              y={drawn.top(placed.x)}
              isFounder={founders.has(placed.animal.id)}
              isChosen={placed.animal.id === lineage.animal.id}
              isStop={placed.animal.id === at}
              onFocus={setAt}
            />
          ))}
        </svg>
      </section>
    </>
  );
}

/** How large the chart stands; the keys + and - do the same. */
function ZoomBar({ zoom }: { readonly zoom: Zoom }) {
  return (
    <fieldset className="zoom">
      <legend className="vh">Size of the chart</legend>
      <button type="button" onClick={zoom.smaller} aria-label="Smaller">
        <svg viewBox="0 0 20 20" aria-hidden="true">
          <path d="M4 10H16" />
        </svg>
      </button>
      <button type="button" onClick={zoom.larger} aria-label="Larger">
        <svg viewBox="0 0 20 20" aria-hidden="true">
          <path d="M4 10H16M10 4V16" />
        </svg>
      </button>
      <button type="button" onClick={zoom.whole}>
        Whole
      </button>
      <button type="button" onClick={() => zoom.set(1)}>
        Legible
      </button>
      <output className="small soft">{Math.round(zoom.scale * 100)} %</output>
    </fieldset>
  );
}

/** `< 1 in 100`: the words of chance as they fit on a line. */
const shortChance = (probability: number) =>
  chanceWords(probability).replace('less than', '<').replace('more than', '>');

/** The lines of all pairs: a step of the walk leaves them as they are. */
const PairLines = memo(({ pairs }: { readonly pairs: readonly DrawnPair[] }) =>
  pairs.map((pair) => (
    <g key={pair.key} className="pair">
      {pair.double && <path className="double" d={pair.double} />}
      {pair.nobody.map(({ key, path, probability, label }) => (
        <g key={key} className="nobody">
          <path d={path} />
          <text className="chance" x={label.x} y={label.y} textAnchor="end">
            ? {shortChance(probability)}
          </text>
        </g>
      ))}
      {pair.lines.map((line) => (
        <g key={line.key}>
          <path d={line.path} style={{ strokeWidth: 1 + 3.5 * line.probability }} />
          {line.probability < 1 && (
            <text className="chance" x={line.label.x} y={line.label.y} textAnchor="end">
              {shortChance(line.probability)}
            </text>
          )}
        </g>
      ))}
    </g>
  )),
);

/** One animal: a step of the walk draws anew the one left and the one reached, no other. */
const DrawnAnimal = memo(
  (props: {
    readonly programId: string;
    readonly placed: PlacedAnimal;
    readonly x: number;
    readonly y: number;
    readonly isFounder: boolean;
    readonly isChosen: boolean;
    readonly isStop: boolean;
    readonly onFocus: (animalId: string) => void;
  }) => {
    const { animal } = props.placed;
    const sex = animal.sex.sex;
    const words = `${animal.code}${animal.name ? ` ${animal.name}` : ''}`;
    const kind = [props.isChosen && 'chosen', props.isFounder && 'founder']
      .filter(Boolean)
      .join(' ');
    return (
      <Link
        to={addresses.lineage(props.programId, animal.id)}
        className={`symbol ${kind}`}
        data-animal={animal.id}
        tabIndex={props.isStop ? 0 : -1}
        aria-label={`${words}, ${SEX_WORDS[sex]}${props.isFounder ? ', founder' : ''}`}
        onFocus={() => props.onFocus(animal.id)}
      >
        <g transform={`translate(${props.x} ${props.y})`}>
          <rect className="ground" x={-HALF - 5} y={-HALF - 9} width="172" height={2 * HALF + 14} />
          {sex === 'MALE' && <rect className="shape" x={-HALF} y={-HALF} width="26" height="26" />}
          {sex === 'FEMALE' && <circle className="shape" r={HALF} />}
          {sex === 'UNKNOWN' && <path className="shape" d="M0-15 15 0 0 15-15 0Z" />}
          <text x={HALF + 8} y="-8">
            {words.length > 17 ? `${words.slice(0, 16)}…` : words}
          </text>
        </g>
      </Link>
    );
  },
);
