import { useState } from 'react';
import { CountField } from '../../components/count-field.js';
import { DraftForm } from '../../components/draft-form.js';
import { faultAt } from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import type { ApiFault } from '../../lib/api-fault.js';
import { cornersIn, type PenDraft, penFaults, rectangle } from './pen-draft.js';

const FIELDS = ['name', 'areaM2', 'capacity', 'features', 'corners', 'sharesFenceWith'];
const fieldOf = (place: string) => {
  const name = place.split('.').find((part) => FIELDS.includes(part));
  return name && `pen-${name}`;
};

/** A pen, new or known. `onSubmit` answers the server's faults; none means it is done. */
export function PenForm(props: {
  readonly programId: string;
  readonly draftKey: string;
  readonly fresh: PenDraft;
  /** That may share a fence with it. */
  readonly others: readonly { readonly id: string; readonly name: string }[];
  readonly submitWords: string;
  readonly onSubmit: (draft: PenDraft) => Promise<ApiFault[]>;
}) {
  return (
    <DraftForm
      programId={props.programId}
      draftKey={props.draftKey}
      fresh={props.fresh}
      check={penFaults}
      fieldOfPlace={fieldOf}
      submitWords={props.submitWords}
      onSubmit={props.onSubmit}
    >
      {({ draft, change, faults }) => (
        <>
          <Field
            id="pen-name"
            label="Name"
            autoComplete="off"
            value={draft.name}
            onChange={(name) => change({ name })}
            fault={faultAt(faults, 'pen-name')}
          />
          <Field
            id="pen-areaM2"
            label="Area, square metres"
            hint="Left empty where corners are given: it is reckoned from them."
            inputMode="decimal"
            autoComplete="off"
            value={draft.areaM2}
            onChange={(areaM2) => change({ areaM2 })}
            fault={faultAt(faults, 'pen-areaM2')}
          />
          <div className="field">
            <label className="tick">
              <input
                type="checkbox"
                checked={draft.isQuarantine}
                onChange={(event) => change({ isQuarantine: event.target.checked })}
              />
              It is for quarantine
            </label>
          </div>
          <CountField
            id="pen-capacity"
            label="Animals it is meant for"
            value={draft.capacity}
            onChange={(capacity) => change({ capacity })}
            fault={faultAt(faults, 'pen-capacity')}
          />
          <Field
            id="pen-features"
            label="What is in it"
            hint="Heated shed, pond, nest mound: with commas between."
            autoComplete="off"
            value={draft.features}
            onChange={(features) => change({ features })}
            fault={faultAt(faults, 'pen-features')}
          />
          {props.others.length > 0 && (
            <fieldset className="field plain-set">
              <legend className="lab">Shares a fence with</legend>
              <span className="hint">
                Males that see each other through a fence pace and ram it.
              </span>
              <div className="ticks">
                {props.others.map(({ id, name }) => (
                  <label className="tick" key={id}>
                    <input
                      type="checkbox"
                      checked={draft.sharesFenceWith.includes(id)}
                      onChange={(event) =>
                        change({
                          sharesFenceWith: event.target.checked
                            ? [...draft.sharesFenceWith, id]
                            : draft.sharesFenceWith.filter((each) => each !== id),
                        })
                      }
                    />
                    {name}
                  </label>
                ))}
              </div>
            </fieldset>
          )}
          <Outline
            text={draft.corners}
            fault={faultAt(faults, 'pen-corners')}
            onChange={(corners) => change({ corners })}
          />
        </>
      )}
    </DraftForm>
  );
}

/** Where it lies on the plan of the yard: a rectangle by its sides, or every corner. */
function Outline(props: {
  readonly text: string;
  readonly fault?: string;
  readonly onChange: (text: string) => void;
}) {
  const [sides, setSides] = useState({ x: '0', y: '0', long: '', wide: '' });
  const change = (next: Partial<typeof sides>) => {
    const all = { ...sides, ...next };
    setSides(all);
    const [x, y, long, wide] = [all.x, all.y, all.long, all.wide].map(Number);
    const isWhole = [x, y, long, wide].every((value) => Number.isFinite(value));
    if (isWhole && long && wide) props.onChange(rectangle(x ?? 0, y ?? 0, long, wide));
  };
  const side = (name: keyof typeof sides, label: string) => (
    <Field
      id={`side-${name}`}
      label={label}
      inputMode="decimal"
      autoComplete="off"
      value={sides[name]}
      onChange={(value) => change({ [name]: value })}
    />
  );
  const corners = cornersIn(props.text) ?? [];
  return (
    <WhyDrawer of="the pen" label="Where it lies on the plan of the yard">
      <p className="small soft">
        In metres from one corner of your ground, chosen once: so far to the right, so far down.
      </p>
      <div className="corner-kinds">
        {side('long', 'Long, m')}
        {side('wide', 'Wide, m')}
        {side('x', 'From the left, m')}
        {side('y', 'From the top, m')}
      </div>
      <Field
        id="pen-corners"
        label="Its corners"
        hint="Filled from the sides above, or typed for a pen that is no rectangle: one corner a line, such as 8 0."
        lines={4}
        value={props.text}
        onChange={props.onChange}
        fault={props.fault}
      />
      {corners.length >= 3 && (
        <svg
          className="pen-outline"
          viewBox={viewBox(corners)}
          role="img"
          aria-label={`A pen of ${corners.length} corners`}
        >
          <polygon points={corners.map(({ x, y }) => `${x},${y}`).join(' ')} />
        </svg>
      )}
    </WhyDrawer>
  );
}

function viewBox(corners: readonly { readonly x: number; readonly y: number }[]): string {
  const xs = corners.map(({ x }) => x);
  const ys = corners.map(({ y }) => y);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const [long, wide] = [Math.max(...xs) - left || 1, Math.max(...ys) - top || 1];
  const room = Math.max(long, wide) * 0.04;
  return `${left - room} ${top - room} ${long + 2 * room} ${wide + 2 * room}`;
}
