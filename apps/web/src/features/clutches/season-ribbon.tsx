import { Link } from 'react-router';
import { addresses } from '../../lib/addresses.js';
import { dayOfText } from '../../lib/calendar.js';
import type { ClutchSheet } from './clutch-documents.js';
import {
  monthsIn,
  motherWords,
  outcomeWords,
  seasonSpan,
  spanWords,
  windowOf,
} from './season-figures.js';

const WIDE = { width: 1040, row: 50, left: 250, size: 17 };
const NARROW = { width: 358, row: 66, left: 8, size: 15 };
const TOP = 40;

/** Laying, incubation and hatch window of each clutch on one time line. The list below says the same. */
export function SeasonRibbon(props: {
  readonly programId: string;
  /** Earliest laid first. */
  readonly sheets: readonly ClutchSheet[];
  readonly today: string;
}) {
  const span = seasonSpan(props.sheets);
  if (!span) return null;
  return (
    <figure
      className="ribbon"
      aria-label="Time line of the clutches; the list below tells the same"
    >
      <div className="only-wide">
        <Drawing {...props} span={span} {...WIDE} />
      </div>
      <div className="only-narrow">
        <Drawing {...props} span={span} {...NARROW} />
      </div>
      <figcaption>
        <ul className="ribbon-key">
          <li>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <ellipse className="laid" cx="12" cy="12" rx="7" ry="9.5" />
            </svg>
            laid
          </li>
          <li>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path className="window" d="M3 4H21V20H3Z" />
              <path className="hatching" d="M4 12L12 4M5 19L20 5M13 20L21 12" />
            </svg>
            hatch window
          </li>
          <li>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path className="hatched" d="M3 4H21V20H3Z" />
            </svg>
            hatched
          </li>
          <li>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <ellipse className="unset" cx="12" cy="12" rx="7" ry="9.5" />
            </svg>
            not set
          </li>
        </ul>
      </figcaption>
    </figure>
  );
}

function Drawing(props: {
  readonly programId: string;
  readonly sheets: readonly ClutchSheet[];
  readonly today: string;
  readonly span: { readonly first: number; readonly last: number };
  readonly width: number;
  readonly row: number;
  readonly left: number;
  readonly size: number;
}) {
  const { sheets, span, width, row, left, size } = props;
  const height = TOP + sheets.length * row + 30;
  const isWide = left > 100;
  const room = width - left - (isWide ? 170 : 12);
  const x = (day: number) =>
    left + (Math.max(0, day - span.first) / (span.last - span.first)) * room;
  const now = dayOfText(props.today) ?? 0;
  const isNow = now >= span.first && now <= span.last;
  const marks = monthsIn(span.first, span.last);
  const every = Math.ceil(marks.length / (isWide ? 12 : 5));
  return (
    <svg viewBox={`0 0 ${width} ${height}`} style={{ fontSize: size }}>
      <title>The season's clutches by day</title>
      <defs>
        <pattern
          id={`window-${width}`}
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path className="hatching" d="M0 0V7" />
        </pattern>
      </defs>
      {marks.map(({ day, name }, k) => (
        <g key={day}>
          <path className="month" d={`M${x(day)} ${TOP - 8}V${height - 26}`} />
          {k % every === 0 && (
            <text className="soft" x={x(day) + 5} y={TOP - 14}>
              {name}
            </text>
          )}
        </g>
      ))}
      {isNow && (
        <g>
          <path className="now" d={`M${x(now)} ${TOP - 8}V${height - 24}`} />
          <text className="today" x={x(now)} y={height - 6} textAnchor="middle">
            today
          </text>
        </g>
      )}
      {sheets.map((sheet, k) => (
        <Row
          key={sheet.clutch.id}
          sheet={sheet}
          programId={props.programId}
          today={props.today}
          x={x}
          top={TOP + k * row}
          row={row}
          isWide={isWide}
          fill={`url(#window-${width})`}
          edge={width}
          now={now}
          last={span.last}
        />
      ))}
    </svg>
  );
}

function Row(props: {
  readonly sheet: ClutchSheet;
  readonly programId: string;
  readonly today: string;
  readonly x: (day: number) => number;
  readonly top: number;
  readonly row: number;
  readonly isWide: boolean;
  readonly fill: string;
  readonly edge: number;
  /** Today and the last day drawn, as days since 1970-01-01. */
  readonly now: number;
  readonly last: number;
}) {
  const { sheet, x, top, isWide } = props;
  const laid = sheet.laid ? dayOfText(sheet.laid) : null;
  const window = windowOf(sheet);
  const isHatched = sheet.hatched > 0;
  const days = isHatched && sheet.hatchedFrom ? hatchDays(sheet) : window;
  const from = days ? dayOfText(days.from) : null;
  const to = days ? dayOfText(days.to) : null;
  const isUnset = sheet.batches.length === 0 && sheet.hatched === 0;
  const y = isWide ? top + 25 : top + 44;
  const start = laid === null ? null : x(laid);
  const end =
    from !== null && to !== null ? ([x(from), Math.max(x(to), x(from) + 10)] as const) : null;
  const isOpen = !end && sheet.stage === 'INCUBATING';
  const tail = end?.[1] ?? (isOpen ? x(Math.min(props.now, props.last)) : (start ?? 0));
  const words = isWide
    ? shortOutcome(sheet)
    : window && !isHatched
      ? spanWords(window).replace(/ \d{4}$/, '')
      : shortOutcome(sheet);
  const isLate = tail > props.edge - (isWide ? 170 : 130);
  return (
    <g>
      <Link to={addresses.clutch(props.programId, sheet.clutch.id)}>
        <rect className="row" x="0" y={top + 1} width={props.edge} height={props.row - 2} />
        <text className="code-of" x="4" y={isWide ? y + 6 : top + 22}>
          {sheet.clutch.code ?? 'no code'}
        </text>
        <title>{`${sheet.clutch.code ?? 'A clutch without a code'}: ${outcomeWords(sheet, props.today)}`}</title>
      </Link>
      <text x={isWide ? 112 : 96} y={isWide ? y + 6 : top + 22}>
        {motherWords(sheet)}
      </text>
      {start !== null && isOpen && (
        <path
          className="incubation open"
          d={`M${start + 8} ${y}H${x(Math.min(props.now, props.last))}`}
        />
      )}
      {start !== null && end && <path className="incubation" d={`M${start + 8} ${y}H${end[0]}`} />}
      {end && (
        <path
          className={isHatched ? 'hatched' : 'window'}
          style={isHatched ? undefined : { fill: props.fill }}
          d={`M${end[0]} ${y - 11}H${end[1]}V${y + 11}H${end[0]}Z`}
        />
      )}
      {start !== null && (
        <ellipse className={isUnset ? 'unset' : 'laid'} cx={start} cy={y} rx="6.5" ry="8.5" />
      )}
      <text
        className="halo"
        x={isLate ? (end?.[0] ?? tail) - 10 : tail + 14}
        y={isLate && !isWide ? top + 22 : y + 6}
        textAnchor={isLate ? 'end' : 'start'}
      >
        {words}
      </text>
    </g>
  );
}

const hatchDays = ({ hatchedFrom, hatchedTo }: ClutchSheet) =>
  hatchedFrom && hatchedTo ? { from: hatchedFrom, to: hatchedTo } : null;

/** Short enough to stand in the drawing. */
function shortOutcome(sheet: ClutchSheet): string {
  if (sheet.hatched > 0) return `${sheet.hatched} hatched`;
  if (sheet.stage === 'DONE') return sheet.batches.length > 0 ? 'none hatched' : 'not set';
  const window = windowOf(sheet);
  if (window) return spanWords(window).replace(/ \d{4}$/, '');
  return sheet.stage === 'LAID' ? 'not yet set' : 'no published time';
}
