import { WhyDrawer } from '../../components/why-drawer.js';
import { partialDateWords } from '../../lib/date-words.js';
import type { FlagGroup } from './flag-groups.js';
import type { PenFlag } from './pen-documents.js';

const SEVERITY_WORDS = { DANGER: 'Danger', WARNING: 'Warning', NOTE: 'To keep in mind' };
const SHOWN = 2;

/** What presses in one pen, each with when, what to do and the source. Never in a drawer while it presses now. */
export function FlagList(props: { readonly of: string; readonly groups: readonly FlagGroup[] }) {
  const now = props.groups.filter(({ isNow }) => isNow);
  const later = props.groups.filter(({ isNow }) => !isNow);
  const comings = later.reduce((sum, { flags }) => sum + flags.length, 0);
  const first = later.map(({ from }) => from).toSorted()[0];
  return (
    <>
      {now.map((group) => (
        <Flag key={group.key} group={group} />
      ))}
      {first && (
        <WhyDrawer
          of={props.of}
          label={`${comings} more to come, the first from ${partialDateWords({ text: first.slice(0, 7) })}`}
        >
          {later.map((group) => (
            <Flag key={group.key} group={group} />
          ))}
        </WhyDrawer>
      )}
    </>
  );
}

function Flag({ group }: { readonly group: FlagGroup }) {
  const { flags, severity } = group;
  const rest = flags.slice(SHOWN);
  return (
    <div className={`pen-flag ${severity.toLowerCase()}`}>
      <svg viewBox="-16 -16 32 32" aria-hidden="true">
        <path className="plate" d="M0-14.5 12.56-7.25V7.25L0 14.5-12.56 7.25V-7.25Z" />
        <path className="mark" d={severity === 'NOTE' ? 'M-6 0H6' : 'M0-8V2.5M0 5.6V9.2'} />
      </svg>
      <div>
        <p className="small severity">
          {SEVERITY_WORDS[severity]}
          {!group.isNow && `, from ${partialDateWords({ text: group.from.slice(0, 7) })}`}
        </p>
        {flags.slice(0, SHOWN).map((flag) => (
          <p key={flagKey(flag)}>
            <b>{flag.message}</b>
            {flag.young && <span className="small"> {flag.young}</span>}
            {flag.certainFrom && flag.certainFrom !== flag.possibleFrom && (
              <span className="small soft">
                {' '}
                Surely from {partialDateWords({ text: flag.certainFrom.slice(0, 7) })}.
              </span>
            )}
          </p>
        ))}
        {rest.length > 0 && (
          <details className="rest">
            <summary>
              and {rest.length} more like it<span className="vh">: {group.remedy}</span>
            </summary>
            <ul>
              {rest.map((flag) => (
                <li key={flagKey(flag)}>{flag.message}</li>
              ))}
            </ul>
          </details>
        )}
        <p>{group.remedy}</p>
        <p className="small soft">{group.source}</p>
      </div>
    </div>
  );
}

const flagKey = (flag: PenFlag) =>
  `${flag.message} ${flag.possibleFrom} ${flag.animals.map(({ id }) => id).join(' ')}`;
