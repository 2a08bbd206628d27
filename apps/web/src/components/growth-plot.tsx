import './growth-plot.css';

export interface SizeAt {
  /** Days since 1970-01-01. */
  readonly day: number;
  readonly mm: number;
}
export interface SizeToCome extends SizeAt {
  /** Should hold it 8 times in 10. */
  readonly low: number;
  readonly high: number;
}

const WIDTH = 560;
const HEIGHT = 240;
const LEFT = 52;
const TOP = 16;
const BOTTOM = 34;
const YEAR = 365.25;

/** Shell lengths as points, and what may come as a band that widens. The table beside it says the same. */
export function GrowthPlot(props: {
  readonly code: string;
  readonly lengths: readonly SizeAt[];
  readonly forecast: readonly SizeToCome[];
}) {
  const { lengths, forecast } = props;
  const days = [...lengths, ...forecast].map(({ day }) => day);
  const first = Math.min(...days);
  const last = Math.max(...days, first + YEAR);
  const most = niceTop(
    Math.max(...lengths.map(({ mm }) => mm), ...forecast.map(({ high }) => high)),
  );
  const x = (day: number) => LEFT + ((day - first) / (last - first)) * (WIDTH - LEFT - 16);
  const y = (mm: number) => HEIGHT - BOTTOM - (mm / most) * (HEIGHT - BOTTOM - TOP);
  const line = (points: readonly (readonly [number, number])[]) =>
    points.map(([day, mm]) => `${x(day).toFixed(1)} ${y(mm).toFixed(1)}`).join('L');
  const end = lengths.at(-1);
  const from = end ? [[end.day, end.mm] as const] : [];
  const steps = [0, most / 2, most];
  const years = yearMarks(first, last);
  return (
    <svg
      className="growth-plot"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${props.code}: ${lengths.length} shell lengths, the last ${end?.mm ?? 'not known'} mm${forecast.length > 0 ? ', and what may come in five years' : ''}. The figures are in the table below.`}
    >
      {steps.map((mm) => (
        <g key={mm}>
          <path className="grid" d={`M${LEFT} ${y(mm)}H${WIDTH - 8}`} />
          <text x={LEFT - 8} y={y(mm) + 5} textAnchor="end">
            {mm}
          </text>
        </g>
      ))}
      {years.map(({ day, name }) => (
        <text key={name} x={x(day)} y={HEIGHT - 10} textAnchor="middle">
          {name}
        </text>
      ))}
      {forecast.length > 0 && (
        <>
          <path
            className="to-come"
            d={`M${line([
              ...from,
              ...forecast.map(({ day, high }) => [day, high] as const),
              ...forecast.toReversed().map(({ day, low }) => [day, low] as const),
            ])}Z`}
          />
          <path
            className="middle"
            d={`M${line([...from, ...forecast.map(({ day, mm }) => [day, mm] as const)])}`}
          />
        </>
      )}
      <path className="grown" d={`M${line(lengths.map(({ day, mm }) => [day, mm] as const))}`} />
      {lengths.map(({ day, mm }) => (
        <circle key={`${day} ${mm}`} cx={x(day)} cy={y(mm)} r="4.5" />
      ))}
    </svg>
  );
}

const niceTop = (mm: number): number => Math.ceil((mm * 1.05) / 50) * 50;

/** At most six first days of a year, with the year. */
function yearMarks(first: number, last: number): { day: number; name: string }[] {
  const start = new Date(first * 86_400_000).getUTCFullYear() + 1;
  const end = new Date(last * 86_400_000).getUTCFullYear();
  const every = Math.max(1, Math.ceil((end - start + 1) / 6));
  const marks = [];
  for (let year = start; year <= end; year += every) {
    marks.push({ day: Date.UTC(year, 0, 1) / 86_400_000, name: String(year) });
  }
  return marks;
}
