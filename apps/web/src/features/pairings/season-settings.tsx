import { useId } from 'react';
import { useSearchParams } from 'react-router';
import { WhyDrawer } from '../../components/why-drawer.js';
import type { PairingFigures } from './pairing-documents.js';
import { SETTING_KEYS, type SettingKey, withSetting } from './season-address.js';

/** Lines that breeders talk of (common practice); none is a verdict. */
const LIMITS = [
  { value: '', words: 'any' },
  { value: '0', words: '0, no shared ancestor in our books' },
  { value: '0.03125', words: '0.031, half first cousins' },
  { value: '0.0625', words: '0.063, first cousins' },
  { value: '0.125', words: '0.125, half brother and sister' },
];

/** What is sought and by which figures pairs are weighed. Choosing acts at once and stays in the address. */
export function SeasonSettingsForm(props: {
  readonly traits: readonly { readonly id: string; readonly name: string }[];
  readonly traitId: string;
  readonly settings: PairingFigures;
  readonly waiting: boolean;
  readonly note: string;
}) {
  const { settings, traits } = props;
  const [params, setParams] = useSearchParams();
  const set = (key: string, value: string | null) =>
    setParams(withSetting(params, key, value), { replace: true, preventScrollReset: true });
  const isChanged = SETTING_KEYS.some((key) => params.has(key));
  return (
    <section className="season" aria-label="What is weighed" aria-busy={props.waiting}>
      <div className="season-choices">
        <Choose
          label="Sought"
          value={props.traitId}
          options={traits.map(({ id, name }) => ({ value: id, words: name }))}
          onChoose={(value) => set('trait', value)}
        />
        <Choose
          label="F of the young, at most"
          value={params.get('f') ?? ''}
          options={LIMITS}
          onChoose={(value) => set('f', value)}
        />
        {settings.pens.length > 0 && (
          <Choose
            label="Living in"
            value={params.get('pen') ?? ''}
            options={[
              { value: '', words: 'any pen' },
              ...settings.pens.map(({ id, name }) => ({ value: id, words: name })),
            ]}
            onChoose={(value) => set('pen', value)}
          />
        )}
      </div>
      <label className="tick">
        <input
          type="checkbox"
          checked={params.get('known') === '1'}
          onChange={(event) => set('known', event.target.checked ? '1' : null)}
        />
        Only animals with a recorded parent
      </label>
      <p className="small soft">{props.note}</p>
      <WhyDrawer
        of="the weighing"
        label={isChanged ? 'Eggs and cost, as you set them' : 'Eggs, hatch and cost of inbreeding'}
      >
        <div className="season-figures">
          <Figure label="Clutches a season" at="clutches" value={settings.clutches} most={12} />
          <Figure label="Eggs a clutch" at="eggs" value={settings.eggsPerClutch} most={60} />
          <Figure
            label="Fertile, of eggs (0 to 1)"
            at="fertile"
            value={settings.fertility}
            most={1}
          />
          <Figure
            label="Hatching, of fertile (0 to 1)"
            at="hatch"
            value={settings.hatch}
            most={1}
          />
          <Figure
            label="Lethal equivalents"
            at="cost"
            value={settings.lethalEquivalents}
            most={40}
            least={-20}
          />
        </div>
        <ul className="assumed">
          {settings.sources.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        <p className="part-name">Published figures of what inbreeding costs</p>
        <ul className="rows">
          {settings.costs.map((cost) => (
            <li key={cost.lethalEquivalents}>
              <span>
                <b>{cost.lethalEquivalents}</b> {cost.source}; {cost.measuredOn}
              </span>
              {cost.lethalEquivalents === settings.lethalEquivalents ? (
                <b>in use</b>
              ) : (
                <button
                  type="button"
                  className="act line"
                  onClick={() => set('cost', String(cost.lethalEquivalents))}
                >
                  Use<span className="vh"> {cost.lethalEquivalents} lethal equivalents</span>
                </button>
              )}
            </li>
          ))}
        </ul>
        {isChanged && (
          <button
            type="button"
            className="act quiet"
            onClick={() => {
              const next = new URLSearchParams(params);
              for (const key of SETTING_KEYS) next.delete(key);
              setParams(next, { replace: true, preventScrollReset: true });
            }}
          >
            Back to the shipped figures
          </button>
        )}
      </WhyDrawer>
    </section>
  );
}

function Choose(props: {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
  readonly onChoose: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <select id={id} value={props.value} onChange={(event) => props.onChoose(event.target.value)}>
        {props.options.map(({ value, words }) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A number that is taken over when the field is left or Enter is pressed; emptied, the shipped figure stands again. */
function Figure(props: {
  readonly label: string;
  readonly at: SettingKey;
  readonly value: number;
  readonly most: number;
  readonly least?: number;
}) {
  const { at, least = 0, most } = props;
  const id = useId();
  const [params, setParams] = useSearchParams();
  const take = (field: HTMLInputElement) => {
    const text = field.value.trim().replace(',', '.');
    const value = Number(text);
    const isGood = text === '' || (Number.isFinite(value) && value >= least && value <= most);
    field.setCustomValidity(isGood ? '' : `Give a number from ${least} to ${most}.`);
    if (!isGood) field.reportValidity();
    else if (text !== String(props.value)) {
      setParams(withSetting(params, at, text), { replace: true, preventScrollReset: true });
    }
  };
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <input
        id={id}
        key={props.value}
        inputMode="decimal"
        defaultValue={props.value}
        onBlur={(event) => take(event.currentTarget)}
        onKeyDown={(event) => event.key === 'Enter' && take(event.currentTarget)}
      />
    </div>
  );
}
