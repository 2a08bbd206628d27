import { type FormEvent, useState } from 'react';
import { Choice } from '../../components/choice.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { FaultNote } from '../../components/fault-note.js';
import { Field } from '../../components/field.js';
import { PartialDateField } from '../../components/partial-date-field.js';
import { SelectField } from '../../components/select-field.js';
import { Skeleton } from '../../components/skeleton.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import { MONTHS, partialDateWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';
import { useProgram } from '../../lib/program-context.js';
import { typedDate, typedDateText } from '../../lib/typed-date.js';
import { useAct } from '../../lib/use-act.js';
import { useRead } from '../../lib/use-read.js';

const SeasonSettingsQuery = graphql(`
  query SeasonSettings($programId: ID!) {
    seasonSettings(programId: $programId) {
      storageYears
      yard
      yardSince
      seasonStartMonth
      colourCheckMonths
      matureYearsFrom
      matureYearsTo
      unrecordedShare
      recencyHalfYears
    }
  }
`);
type Settings = ResultOf<typeof SeasonSettingsQuery>['seasonSettings'];

const ChangeSeasonSettings = graphql(`
  mutation ChangeSeasonSettings($programId: ID!, $input: SeasonSettingsInput!) {
    changeSeasonSettings(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);

type Yard = 'CLOSED' | 'OPEN' | 'UNKNOWN';
const YARD_WORDS: Readonly<Record<string, string>> = {
  CLOSED: 'No male from outside could get in',
  OPEN: 'A male from outside could get in',
  UNKNOWN: 'Nobody said whether a male from outside could get in',
};

/** What the program assumes of its season, what each does, and where it comes from. */
export function SeasonSettings() {
  const program = useProgram();
  const { data, faults, again } = useRead(SeasonSettingsQuery, { programId: program.id });
  const settings = data?.seasonSettings;
  return (
    <>
      <FaultNote faults={faults} again={again} />
      {!settings && faults.length === 0 && <Skeleton lines={6} what="the season's settings" />}
      {settings && (
        <>
          <ul className="rows">
            <li>
              <span>
                {YARD_WORDS[settings.yard]}
                {settings.yardSince && settings.yard !== 'UNKNOWN'
                  ? `, since ${partialDateWords({ text: settings.yardSince })}`
                  : ''}
              </span>
            </li>
            <li>
              <span>A female may store sperm for</span>
              <b>{years(settings.storageYears)}</b>
            </li>
            <li>
              <span>A day together counts half after</span>
              <b>{years(settings.recencyHalfYears)}</b>
            </li>
            <li>
              <span>May be grown from</span>
              <b>{years(settings.matureYearsFrom)}</b>
            </li>
            <li>
              <span>Surely grown from</span>
              <b>{years(settings.matureYearsTo)}</b>
            </li>
            <li>
              <span>Colour is looked at again after</span>
              <b>{settings.colourCheckMonths} months</b>
            </li>
            <li>
              <span>The season begins in</span>
              <b>{MONTHS[settings.seasonStartMonth - 1]}</b>
            </li>
          </ul>
          {program.role === 'OWNER' && (
            <WhyDrawer of="the season" label="Change them">
              <SettingsForm
                key={JSON.stringify(settings)}
                programId={program.id}
                settings={settings}
              />
            </WhyDrawer>
          )}
        </>
      )}
    </>
  );
}

const years = (count: number) => (count === 1 ? '1 year' : `${count} years`);

/** Figures of the form, with what each does and its source. */
const FIGURES = [
  {
    name: 'storageYears',
    label: 'Years a female may store sperm',
    hint: 'Every male she was with in so many years before laying may be the father. 3 are supported: Pearse, Janzen and Avise 2001, painted turtle. 4 is the cautious setting: Ewing 1943, box turtle, from memory. A species may have its own: Program, Species.',
  },
  {
    name: 'recencyHalfYears',
    label: 'Years after which a day together counts half',
    hint: 'The shorter, the more the last male counts. Order of mating did not predict success in Hermann’s tortoises: Cutuli et al. 2013. The figure is ours: common practice, no source.',
  },
  {
    name: 'matureYearsFrom',
    label: 'May be grown from, years',
    hint: 'Where no size tells more. Younger males are no possible fathers, and bring no fight.',
  },
  {
    name: 'matureYearsTo',
    label: 'Surely grown from, years',
    hint: 'Growth decides more than age, and species differ: set your own. The 5 and 12 it starts with: common practice, no source.',
  },
  {
    name: 'colourCheckMonths',
    label: 'Months after hatching to look at colour again',
    hint: 'The first look is kept beside the second. Common practice, no source.',
  },
] as const;
type FigureName = (typeof FIGURES)[number]['name'];

function SettingsForm(props: { readonly programId: string; readonly settings: Settings }) {
  const { programId, settings } = props;
  const { run, running } = useAct(ChangeSeasonSettings);
  const tellDone = useTellDone();
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const [yard, setYard] = useState(settings.yard as Yard);
  const [since, setSince] = useState(() => typedDate(settings.yardSince));
  const [month, setMonth] = useState(String(settings.seasonStartMonth));
  const [share, setShare] = useState(
    settings.unrecordedShare === null ? '' : String(settings.unrecordedShare * 100),
  );
  const [figures, setFigures] = useState<Readonly<Record<FigureName, string>>>(() => ({
    storageYears: String(settings.storageYears),
    recencyHalfYears: String(settings.recencyHalfYears),
    matureYearsFrom: String(settings.matureYearsFrom),
    matureYearsTo: String(settings.matureYearsTo),
    colourCheckMonths: String(settings.colourCheckMonths),
  }));
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (running) return;
    const number = (text: string) => Number(text.trim().replace(',', '.'));
    const wrong = FIGURES.filter(
      ({ name }) => figures[name].trim() === '' || !(number(figures[name]) >= 0),
    ).map(({ name, label }) => ({ field: `season-${name}`, message: `${label}: write a number.` }));
    const isShareWrong = share.trim() !== '' && !(number(share) >= 0 && number(share) <= 90);
    const own = isShareWrong
      ? [...wrong, { field: 'season-unrecordedShare', message: 'Write 0 to 90, or nothing.' }]
      : wrong;
    setFaults(own);
    if (own.length > 0) return;
    const outcome = await run((commandId) => ({
      programId,
      input: {
        commandId,
        yard,
        yardSince: typedDateText(since) || null,
        seasonStartMonth: Number(month),
        unrecordedShare: share.trim() === '' ? null : number(share) / 100,
        storageYears: number(figures.storageYears),
        recencyHalfYears: number(figures.recencyHalfYears),
        matureYearsFrom: number(figures.matureYearsFrom),
        matureYearsTo: number(figures.matureYearsTo),
        colourCheckMonths: number(figures.colourCheckMonths),
      },
    }));
    if (!outcome.done) {
      setFaults(formFaults(outcome.faults, (place) => `season-${place.replace(/^input\./, '')}`));
      return;
    }
    setFaults([]);
    const { id, sentence } = outcome.data.changeSeasonSettings.command;
    tellDone({ sentence, commandId: id });
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      <Choice
        label="Could a male from outside get in?"
        value={yard}
        onChange={setYard}
        options={[
          { value: 'CLOSED', words: 'No, closed' },
          { value: 'OPEN', words: 'Yes, open' },
          { value: 'UNKNOWN', words: 'Not known' },
        ]}
      />
      {yard !== 'UNKNOWN' && (
        <PartialDateField
          id="season-yardSince"
          label="Since"
          value={since}
          onChange={setSince}
          fault={faultAt(faults, 'season-yardSince')}
        />
      )}
      <Field
        id="season-unrecordedShare"
        label="Least chance of a male nobody recorded, in 100"
        hint="Left empty, it follows from the yard: less where it is closed."
        inputMode="decimal"
        autoComplete="off"
        value={share}
        onChange={setShare}
        fault={faultAt(faults, 'season-unrecordedShare')}
      />
      {FIGURES.map(({ name, label, hint }) => (
        <Field
          key={name}
          id={`season-${name}`}
          label={label}
          hint={hint}
          inputMode="decimal"
          autoComplete="off"
          value={figures[name]}
          onChange={(value) => setFigures({ ...figures, [name]: value })}
          fault={faultAt(faults, `season-${name}`)}
        />
      ))}
      <SelectField
        id="season-seasonStartMonth"
        label="The season begins in"
        hint="Clutches are counted by season from this month on."
        value={month}
        options={MONTHS.map((words, k) => ({ value: String(k + 1), words }))}
        onChange={setMonth}
      />
      <div className="acts">
        <button type="submit" className="act" aria-disabled={running}>
          Keep the settings
        </button>
      </div>
    </form>
  );
}
