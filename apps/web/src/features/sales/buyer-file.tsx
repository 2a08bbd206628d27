import { useState } from 'react';
import { FaultNote } from '../../components/fault-note.js';
import { SEX_WORDS, type Sex } from '../../components/sex-shape.js';
import { Skeleton } from '../../components/skeleton.js';
import { useRead } from '../../lib/use-read.js';
import { type BuyerAnimal, chosenOfFile } from './buyer.js';
import { type BuyerFileAnimal, ReadBuyerFileQuery } from './sale-documents.js';

/** As much as the server takes. */
const MOST_BYTES = 900_000;
const SHOWN = 300;

/** The buyer's program file or spreadsheet: which of its animals to compare, and which of them are ours. Nothing is kept. */
export function BuyerFilePick(props: {
  readonly programId: string;
  readonly onChoose: (animals: BuyerAnimal[]) => void;
}) {
  const [text, setText] = useState('');
  const [tooLarge, setTooLarge] = useState(false);
  const { data, faults, again } = useRead(
    ReadBuyerFileQuery,
    { programId: props.programId, text },
    text === '',
  );
  const file = text === '' ? undefined : data?.readBuyerFile;
  const take = async (picked: File | undefined) => {
    if (!picked) return;
    setTooLarge(picked.size > MOST_BYTES);
    setText(picked.size > MOST_BYTES ? '' : await picked.text());
  };
  return (
    <div className="buyer-file">
      <div className="field">
        <label htmlFor="buyer-file">The buyer's program file or spreadsheet</label>
        <span className="hint">CSV with code, sex, sire, dam. Read for this check, not kept.</span>
        <input
          id="buyer-file"
          type="file"
          accept=".csv,.txt,.tsv,text/csv"
          onChange={(event) => take(event.target.files?.[0])}
        />
        {tooLarge && (
          <span className="fault">
            The file is larger than 900 kB. The animals asked about and their forebears are enough.
          </span>
        )}
      </div>
      <FaultNote faults={faults} again={again} />
      {text !== '' && !file && faults.length === 0 && <Skeleton lines={4} what="the file" />}
      {file && file.faults.length > 0 && (
        <ul className="assumed">
          {file.faults.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {file && file.animals.length > 0 && (
        <Chooser key={text.length} animals={file.animals} onChoose={props.onChoose} />
      )}
    </div>
  );
}

function Chooser(props: {
  readonly animals: readonly BuyerFileAnimal[];
  readonly onChoose: (animals: BuyerAnimal[]) => void;
}) {
  const { animals } = props;
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [same, setSame] = useState<ReadonlySet<string>>(new Set());
  const alike = animals.filter(({ sameCode }) => sameCode !== null);
  const turned = (set: ReadonlySet<string>, code: string) => {
    const next = new Set(set);
    if (!next.delete(code)) next.add(code);
    return next;
  };
  return (
    <>
      {alike.length > 0 && (
        <fieldset className="ticks">
          <legend>
            Codes that stand in our books too. Tick those that are the same animal: left open, their
            kinship is understated.
          </legend>
          {alike.map(({ code, sameCode }) => (
            <label className="tick" key={code}>
              <input
                type="checkbox"
                checked={same.has(code)}
                onChange={() => setSame(turned(same, code))}
              />
              <span>
                {code} is our {sameCode?.code}
                {sameCode?.name && ` ${sameCode.name}`}
                {sameCode?.hatched && `, hatched ${sameCode.hatched.text}`}
              </span>
            </label>
          ))}
        </fieldset>
      )}
      <fieldset className="ticks">
        <legend>
          Which of the {animals.length} to compare
          {animals.length > SHOWN && `, the first ${SHOWN} shown`}
        </legend>
        <div className="tick-list">
          {animals.slice(0, SHOWN).map(({ code, name, sex, hatched }) => (
            <label className="tick" key={code}>
              <input
                type="checkbox"
                checked={chosen.has(code)}
                onChange={() => setChosen(turned(chosen, code))}
              />
              <span>
                {code}
                {name && ` ${name}`}, {SEX_WORDS[sex as Sex]}
                {hatched && `, ${hatched}`}
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      <button
        type="button"
        className="act line"
        disabled={chosen.size === 0}
        onClick={() => props.onChoose(chosenOfFile(animals, chosen, same))}
      >
        Compare {chosen.size === 0 ? 'the ticked ones' : `these ${chosen.size}`}
      </button>
    </>
  );
}
