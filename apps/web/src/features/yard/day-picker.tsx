import { dayOfText, textOfDay } from '../../lib/calendar.js';
import { partialDateWords } from '../../lib/date-words.js';

/** Days on either side of today that the slider reaches; the field reaches any. */
const REACH = 730;

/** Any day past or planned: typed, or slid to. */
export function DayPicker(props: {
  readonly day: string;
  readonly today: string;
  readonly onChange: (day: string) => void;
}) {
  const { day, today, onChange } = props;
  const now = dayOfText(today) ?? 0;
  const shown = dayOfText(day) ?? now;
  const offset = Math.max(-REACH, Math.min(REACH, shown - now));
  const to = (next: number) => onChange(textOfDay(next));
  return (
    <div className="day-picker">
      <div className="field">
        <label htmlFor="yard-day">Day</label>
        <div className="control">
          <button type="button" className="act line" onClick={() => to(shown - 1)}>
            <span aria-hidden="true">−</span>
            <span className="vh">One day earlier</span>
          </button>
          <input
            id="yard-day"
            type="date"
            value={day}
            onChange={(event) => event.target.value && onChange(event.target.value)}
          />
          <button type="button" className="act line" onClick={() => to(shown + 1)}>
            <span aria-hidden="true">+</span>
            <span className="vh">One day later</span>
          </button>
          {day !== today && (
            <button type="button" className="act quiet" onClick={() => onChange(today)}>
              Today
            </button>
          )}
        </div>
      </div>
      <div className="field slide-days">
        <label htmlFor="yard-slide">
          Two years back to two years on <span className="soft">{wordsOf(shown - now)}</span>
        </label>
        <input
          id="yard-slide"
          type="range"
          min={-REACH}
          max={REACH}
          step={1}
          value={offset}
          aria-valuetext={`${partialDateWords({ text: day })}, ${wordsOf(shown - now)}`}
          onChange={(event) => to(now + Number(event.target.value))}
        />
      </div>
    </div>
  );
}

function wordsOf(days: number): string {
  if (days === 0) return 'today';
  const count = Math.abs(days) === 1 ? 'one day' : `${Math.abs(days)} days`;
  return days < 0 ? `${count} ago` : `in ${count}, as planned`;
}
