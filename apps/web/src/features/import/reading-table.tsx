import { useState } from 'react';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import { WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { ColumnTable } from './column-table.js';
import type { FileLook, Reading } from './import-documents.js';

const SEPARATORS: readonly [string, string][] = [
  [',', 'Comma ,'],
  [';', 'Semicolon ;'],
  ['\t', 'Tab'],
  ['|', 'Upright bar |'],
];

const ENCODINGS: readonly [string, string][] = [
  ['utf-8', 'UTF-8'],
  ['windows-1252', 'Windows-1252 (older spreadsheets)'],
  ['utf-16le', 'UTF-16, little end first'],
  ['utf-16be', 'UTF-16, big end first'],
];

const WORDS = {
  female: 'Words for female',
  male: 'Words for male',
  unknown: 'Words for not yet sexed',
  none: 'Words for: looked at, shows no trait',
} as const;

/** All of how the file is read, each part to be changed: a change looks at the file anew. */
export function ReadingTable(props: {
  readonly look: FileLook;
  readonly onChange: (change: Reading) => void;
}) {
  const { look, onChange } = props;
  const { map } = look;
  const select = (
    label: string,
    value: string,
    options: readonly [string, string][],
    change: (value: string) => void,
  ) => (
    <label className="field">
      <span className="lab">{label}</span>
      <select value={value} onChange={(event) => change(event.target.value)}>
        {options.map(([each, words]) => (
          <option key={each} value={each}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      {map.format === 'SIX_COLUMNS' ? (
        <SixColumns trait={map.affectedTrait} onChange={onChange} />
      ) : (
        <ColumnTable map={map} onChange={onChange} />
      )}
      {(look.guardedCells > 0 || map.isGuarded) && (
        <label className="tick">
          <input
            type="checkbox"
            checked={map.isGuarded}
            onChange={(event) => onChange({ isGuarded: event.target.checked })}
          />
          <span>
            {map.isGuarded
              ? 'The apostrophe that guards cells against being run as formulas is taken off.'
              : `${look.guardedCells} cells begin with an apostrophe and = + - or @: take the apostrophe off.`}
          </span>
        </label>
      )}
      <WhyDrawer of="how the file is read" label="What was guessed; words, signs, letters">
        {look.guesses.length > 0 && (
          <WhyPart name="What was guessed">
            <ul className="assumed">
              {look.guesses.map((guess) => (
                <li key={guess}>{guess}</li>
              ))}
            </ul>
          </WhyPart>
        )}
        {map.format === 'HEADINGS' && (
          <>
            <WhyPart name="Words">
              <div className="onecol">
                {Object.entries(WORDS).map(([key, label]) => (
                  <WordsField
                    key={key}
                    id={`words-${key}`}
                    label={label}
                    words={map.words[key as keyof typeof WORDS]}
                    onWords={(words) => onChange({ words: { ...map.words, [key]: words } })}
                  />
                ))}
              </div>
            </WhyPart>
            <WhyPart name="Signs and years">
              <div className="reading">
                {select('Columns are parted by', map.separator, SEPARATORS, (separator) =>
                  onChange({ separator }),
                )}
                {select(
                  'Years of two digits',
                  map.twoDigitYearsFrom === null ? '' : String(map.twoDigitYearsFrom),
                  [
                    ['', 'are a fault'],
                    ['1950', '50 to 99 are 1950 to 1999, 00 to 49 are 2000 to 2049'],
                  ],
                  (from) => onChange({ twoDigitYearsFrom: from === '' ? null : Number(from) }),
                )}
              </div>
            </WhyPart>
          </>
        )}
        <WhyPart name="Letters">
          {select('Encoding of the file', map.encoding, ENCODINGS, (encoding) =>
            onChange({ encoding }),
          )}
        </WhyPart>
        <WhyPart name="Kind of file">
          <Choice
            label="The file is"
            value={map.format as NonNullable<Reading['format']>}
            onChange={(format) => onChange({ format })}
            options={[
              { value: 'HEADINGS', words: 'A table with headings' },
              { value: 'SIX_COLUMNS', words: 'Six pedigree columns' },
            ]}
          />
        </WhyPart>
      </WhyDrawer>
    </>
  );
}

/** The open pedigree convention: nothing to map but what 'affected' stands for. */
function SixColumns(props: {
  readonly trait: string | null;
  readonly onChange: (change: Reading) => void;
}) {
  const [trait, setTrait] = useState(props.trait ?? '');
  return (
    <>
      <p>
        The file follows the open pedigree convention of six columns without headings: family, id,
        father, mother, sex (1 male, 2 female) and phenotype (1 unaffected, 2 affected); 0 is not
        known.
      </p>
      <div className="onecol">
        <Field
          id="affected-trait"
          label="The trait that ‘affected’ stands for"
          hint="Empty: the phenotype is left out."
          autoComplete="off"
          value={trait}
          onChange={setTrait}
          onBlur={() => {
            if (trait.trim() !== (props.trait ?? '')) {
              props.onChange({ affectedTrait: trait.trim() || null });
            }
          }}
        />
      </div>
    </>
  );
}

/** Words in a line, parted by commas; sent when the field is left. */
function WordsField(props: {
  readonly id: string;
  readonly label: string;
  readonly words: readonly string[];
  readonly onWords: (words: string[]) => void;
}) {
  const kept = props.words.join(', ');
  const [text, setText] = useState(kept);
  const send = () => {
    const words = text
      .split(',')
      .map((word) => word.trim().toLowerCase())
      .filter(Boolean);
    if (words.join(', ') !== kept) props.onWords(words);
  };
  return (
    <Field
      id={props.id}
      label={props.label}
      autoComplete="off"
      autoCapitalize="none"
      spellCheck="false"
      value={text}
      onChange={setText}
      onBlur={send}
    />
  );
}
