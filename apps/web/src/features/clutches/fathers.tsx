import { type FormEvent, useState } from 'react';
import { AnimalFinder } from '../../components/animal-finder.js';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { CandidateLines } from '../../components/candidate-lines.js';
import { Code } from '../../components/code.js';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { EvidenceList, WhyDrawer } from '../../components/why-drawer.js';
import { chanceWords } from '../../lib/chance-words.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useTellDone } from '../../lib/done-context.js';
import { useAct } from '../../lib/use-act.js';
import { type ClutchDetail, EditClutch } from './clutch-documents.js';

/** Who may be the father, how that follows, and how to set it by hand or go back. */
export function Fathers(props: {
  readonly programId: string;
  readonly sheet: ClutchDetail;
  readonly mayWrite: boolean;
}) {
  const { programId, sheet } = props;
  const { candidates, unrecorded } = sheet.sire;
  const byHand = sheet.derived === null && candidates.length > 0;
  return (
    <>
      {candidates.length === 0 ? (
        <p>Nobody of the books is known to have been with her, so it is a male nobody recorded.</p>
      ) : (
        <CandidateLines
          lines={[
            ...candidates.map(({ animal, probability }) => ({
              key: animal.id,
              who: <AnimalLink programId={programId} animal={animal} />,
              probability,
            })),
            ...(unrecorded > 0
              ? [
                  {
                    key: 'unrecorded',
                    who: 'a male nobody recorded',
                    probability: unrecorded,
                    unrecorded: true,
                  },
                ]
              : []),
          ]}
        />
      )}
      {byHand && <p>Written down by hand: who was where is not asked for this clutch.</p>}
      {sheet.derived && (
        <>
          <p>{sheet.derived.sentence}</p>
          <WhyDrawer of="the possible fathers">
            <EvidenceList
              lines={sheet.derived.fathers.map((father) => ({
                key: father.animal.id,
                finding: (
                  <>
                    <Code code={father.animal.code} name={father.animal.name} />:{' '}
                    {daysWords(father)}
                  </>
                ),
                source: `with her, as far as written, until ${partialDateWords({ text: father.lastDay })}`,
                moved: chanceWords(father.probability),
              }))}
            />
            <p className="small soft">
              A male nobody recorded: {chanceWords(sheet.derived.unrecorded)}. These are the chances
              before any colour is looked at.
            </p>
          </WhyDrawer>
          <Assumed of="the possible fathers" lines={sheet.derived.assumptions} />
        </>
      )}
      {props.mayWrite && <SetByHand programId={programId} sheet={sheet} byHand={byHand} />}
    </>
  );
}

function daysWords(father: NonNullable<ClutchDetail['derived']>['fathers'][number]): string {
  const days = (count: number) => (count === 1 ? '1 day' : `${count} days`);
  const together =
    father.certainDays === father.possibleDays
      ? `${days(father.possibleDays)} together`
      : `at most ${days(father.possibleDays)} together, ${days(father.certainDays)} for certain`;
  const seen = father.matingsSeen;
  return seen === 0
    ? together
    : `${together}, ${seen === 1 ? 'one mating' : `${seen} matings`} seen`;
}

interface ByHand {
  readonly animalId: string;
  readonly code: string;
  readonly inHundred: string;
}

function SetByHand(props: {
  readonly programId: string;
  readonly sheet: ClutchDetail;
  readonly byHand: boolean;
}) {
  const { programId, sheet } = props;
  const { run, running } = useAct(EditClutch);
  const tellDone = useTellDone();
  const [rows, setRows] = useState<readonly ByHand[]>([]);
  const [reason, setReason] = useState('');
  const [faults, setFaults] = useState<readonly FormFault[]>([]);
  const send = async (
    sires: readonly { animalId: string; probability?: number }[],
    why: string | undefined,
    sentence: string,
  ) => {
    if (running) return;
    const outcome = await run((commandId) => ({
      programId,
      input: { commandId, clutchId: sheet.clutch.id, sires: [...sires], reason: why },
    }));
    if (!outcome.done) {
      setFaults(
        formFaults(outcome.faults, (place) =>
          place.includes('reason') ? 'fathers-reason' : 'fathers-find',
        ),
      );
      return;
    }
    setFaults([]);
    setRows([]);
    tellDone({ sentence, commandId: outcome.data.editClutch.commandId });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const own: FormFault[] = [];
    if (rows.length === 0) own.push({ field: 'fathers-find', message: 'Name at least one male.' });
    if (!reason.trim()) {
      own.push({ field: 'fathers-reason', message: 'Say why: a test, or what was seen.' });
    }
    const parts = rows.map(({ inHundred }) => (inHundred.trim() ? Number(inHundred) : undefined));
    if (parts.some((part) => part !== undefined && !(part > 0 && part <= 100))) {
      own.push({ field: 'fathers-find', message: 'A chance is over 0 and at most 100.' });
    }
    setFaults(own);
    if (own.length > 0) return;
    send(
      rows.map(({ animalId }, k) => ({
        animalId,
        ...(parts[k] === undefined ? {} : { probability: (parts[k] ?? 0) / 100 }),
      })),
      reason.trim(),
      `Fathers of ${sheet.clutch.code ?? 'the clutch'} are set by hand.`,
    );
  };
  return (
    <WhyDrawer of="the father" label={props.byHand ? 'Set anew, or go back' : 'Set by hand'}>
      {props.byHand && (
        <p>
          <button
            type="button"
            className="act line"
            onClick={() =>
              send(
                [],
                undefined,
                `Fathers of ${sheet.clutch.code ?? 'the clutch'} follow from who was where again.`,
              )
            }
          >
            Let them follow from who was where
          </button>
        </p>
      )}
      <form className="onecol" onSubmit={submit} noValidate>
        <ErrorSummary faults={faults} />
        {rows.map((row, k) => (
          <div key={row.animalId} className="father-row">
            <Field
              id={`fathers-${k}`}
              label={`${row.code}, chance in 100`}
              hint={k === 0 ? 'Left empty, they share what is left.' : undefined}
              inputMode="decimal"
              autoComplete="off"
              value={row.inHundred}
              onChange={(inHundred) =>
                setRows(rows.map((each, at) => (at === k ? { ...each, inHundred } : each)))
              }
              beside={
                <button
                  type="button"
                  className="act quiet"
                  onClick={() => setRows(rows.filter((_, at) => at !== k))}
                >
                  Take out<span className="vh"> {row.code}</span>
                </button>
              }
            />
          </div>
        ))}
        <AnimalFinder
          id="fathers-find"
          programId={programId}
          label={rows.length === 0 ? 'Father' : 'Another that it may be'}
          fault={faultAt(faults, 'fathers-find')}
          isOut={(animal) =>
            animal.sex.sex === 'FEMALE' || rows.some(({ animalId }) => animalId === animal.id)
          }
          onPick={({ id, code }) => setRows([...rows, { animalId: id, code, inHundred: '' }])}
        />
        <Field
          id="fathers-reason"
          label="Why"
          hint="It stands in the records beside the clutch."
          value={reason}
          onChange={setReason}
          fault={faultAt(faults, 'fathers-reason')}
        />
        <div className="acts">
          <button type="submit" className="act" aria-disabled={running}>
            Set by hand
          </button>
        </div>
      </form>
    </WhyDrawer>
  );
}
