import { type EggLot, EggTray } from '../../components/egg-tray.js';
import type { Share } from '../../lib/answer-fragments.js';
import { shareNote } from '../../lib/chance-words.js';
import type { CrossAnswer, OutcomeClass, TargetOdds } from './pairing-documents.js';

/** A case rarer than one in fifty is in the figures, but gets no tray of its own. */
const LEAST = 0.02;

/** Twenty eggs, and below them the cases where what the parents carry is not certain. */
export function OutcomeTrays(props: {
  readonly outcome: CrossAnswer['traits'][number];
  readonly cases: TargetOdds['cases'];
}) {
  const { outcome, cases } = props;
  const shown = cases.filter(({ probability }) => probability.value >= LEAST);
  return (
    <>
      <EggTray lots={lots(outcome.classes)} />
      {shown.length > 1 && (
        <div className="cases">
          {shown.map((one) => (
            <div key={one.sentence}>
              <h3>
                {one.sentence} <span className="soft">{one.probability.said}</span>
              </h3>
              <EggTray fine lots={caseLots(outcome.trait.name, one.perEgg)} />
            </div>
          ))}
        </div>
      )}
    </>
  );
}

/** The eggs of each look. Rounding may leave one too many or too few: the largest lot takes it. */
function lots(classes: readonly OutcomeClass[]): EggLot[] {
  const drawn = classes.filter(({ share }) => share.ofTwenty > 0);
  const over = drawn.reduce((sum, { share }) => sum + share.ofTwenty, 0) - 20;
  const largest = Math.max(...drawn.map(({ share }) => share.ofTwenty));
  const taker = drawn.find(({ share }) => share.ofTwenty === largest);
  return drawn
    .toSorted((a, b) => Number(b.isTarget) - Number(a.isTarget))
    .map((look) => ({
      name: look.name,
      eggs: look.share.ofTwenty - (look === taker ? over : 0),
      kind: look.isTarget ? 'shows' : /\bhet\b/.test(look.name) ? 'carries' : 'plain',
      note: shareNote(look.share),
    }));
}

/** Of one case only the sought kind is told apart from the rest. */
function caseLots(trait: string, perEgg: Share): EggLot[] {
  const shows = { name: trait, eggs: perEgg.ofTwenty, kind: 'shows' as const };
  const rest = { name: `not ${trait}`, eggs: 20 - perEgg.ofTwenty, kind: 'plain' as const };
  return [shows, rest].filter(({ eggs }) => eggs > 0);
}
