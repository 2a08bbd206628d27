import { Scute } from './scute.js';
import './running-work.css';

/** Long work: the glyph fills, the count in words, and Stop. The page keeps its place. */
export function RunningWork(props: {
  /** Done part, 0 to 1; null while it cannot be said. */
  readonly share: number | null;
  readonly words: string;
  readonly onStop?: () => void;
}) {
  return (
    <div className="running">
      <Scute share={props.share} tone="settled" />
      <p role="status">{props.words}</p>
      {props.onStop && (
        <button className="act line" type="button" onClick={props.onStop}>
          Stop
        </button>
      )}
    </div>
  );
}
