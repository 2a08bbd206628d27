import { Link, useParams } from 'react-router';
import { AnimalLink } from '../../components/animal-link.js';
import { Band } from '../../components/band.js';
import { CandidateLines } from '../../components/candidate-lines.js';
import { Caution } from '../../components/caution.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { RecordLines } from '../../components/record-lines.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { WriteLink } from '../../components/write-link.js';
import { addresses } from '../../lib/addresses.js';
import { todayText } from '../../lib/calendar.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { type ClutchPage as Answer, type ClutchDetail, ClutchQuery } from './clutch-documents.js';
import { CorrectClutch } from './correct-clutch.js';
import { EggFates } from './egg-fates.js';
import { Fathers } from './fathers.js';
import { Reach } from './reach.js';
import { outcomeWords, spanWords } from './season-figures.js';
import './clutches.css';

/** One clutch: its eggs, boxes, parents, young and records. */
export function ClutchPage() {
  const program = useProgram();
  const { clutchId = '' } = useParams();
  const { data, faults, again } = useRead(ClutchQuery, { programId: program.id, id: clutchId });
  const trail = <Link to={addresses.clutches(program.id)}>Clutches</Link>;
  const sheet = data?.clutch;
  if (!data || !sheet) {
    return (
      <>
        <Opening title="Clutch" trail={trail} />
        <FaultNote faults={faults} again={again} />
        {!data && faults.length === 0 && <Skeleton lines={12} what="the clutch" />}
        {data && (
          <EmptyState title="There is no such clutch">
            <p>
              It may have been removed; the <Link to={addresses.history(program.id)}>history</Link>{' '}
              tells who did it and can take it back.
            </p>
          </EmptyState>
        )}
      </>
    );
  }
  const code = sheet.clutch.code ?? 'Clutch without a code';
  const ref = sheet.clutch.code ?? sheet.clutch.id;
  return (
    <>
      <Opening
        title={code}
        heading={
          <>
            <span className="figure code">{code}</span>
            <span className="soft">
              {sheet.laid
                ? `laid ${partialDateWords({ text: sheet.laid })}`
                : 'laying date not known'}
              {sheet.pen ? ` in ${sheet.pen}` : ''}
            </span>
          </>
        }
        trail={trail}
        sentence={<Said text={sheet.sentence} />}
        acts={program.mayWrite && <Acts sheet={sheet} programId={program.id} clutch={ref} />}
      />
      <FaultNote faults={faults} again={again} />
      <Band title="Its eggs" note="Each egg once. The count must come out.">
        <EggFates sheet={sheet} />
        {sheet.stage !== 'DONE' && <p>{outcomeWords(sheet, todayText())}.</p>}
        {sheet.open !== null && sheet.open > 0 && sheet.stage === 'INCUBATING' && (
          <p className="small soft">An egg nobody opened says nothing of its father.</p>
        )}
      </Band>
      <Band title="Boxes" note="Where they lie, how warm, and when young may hatch.">
        <Boxes sheet={sheet} programId={program.id} clutch={ref} mayWrite={program.mayWrite} />
      </Band>
      <Band title="Mother">
        <Mother sheet={sheet} programId={program.id} />
      </Band>
      <Band title="Possible fathers" note="Each with why he may be it. They add up to all.">
        <Fathers programId={program.id} sheet={sheet} mayWrite={program.mayWrite} />
      </Band>
      <Band title="The young">
        <Young sheet={sheet} answer={data} programId={program.id} />
      </Band>
      <Band title="Records" note="What was written about this clutch, latest first.">
        <RecordLines
          programId={program.id}
          id={sheet.clutch.id}
          none="Nothing beside the laying is written yet."
        />
      </Band>
      {program.mayWrite && (
        <Band title="Mend it" note="What was wrong stays in the history.">
          <Reach programId={program.id} clutchId={sheet.clutch.id} />
          <CorrectClutch key={JSON.stringify(sheet)} programId={program.id} sheet={sheet} />
        </Band>
      )}
    </>
  );
}

function Acts(props: {
  readonly sheet: ClutchDetail;
  readonly programId: string;
  readonly clutch: string;
}) {
  const { sheet, programId, clutch } = props;
  const link = (form: string, words: string, isFirst: boolean) => (
    <WriteLink
      programId={programId}
      form={form}
      given={{ clutch }}
      className={isFirst ? 'act' : 'act line'}
    >
      {words}
    </WriteLink>
  );
  return (
    <>
      {sheet.stage === 'LAID' && link('set', 'Set eggs', true)}
      {sheet.stage === 'INCUBATING' && link('hatched', 'Young hatched', true)}
      {sheet.stage !== 'DONE' && link('eggs', 'Eggs that did not hatch', false)}
      {sheet.stage === 'INCUBATING' && link('warmth', 'Temperature', false)}
      {sheet.hatched > 0 && link('colour-count', 'Colour check', sheet.stage === 'DONE')}
      {link('noted', 'Note', false)}
    </>
  );
}

function Boxes(props: {
  readonly sheet: ClutchDetail;
  readonly programId: string;
  readonly clutch: string;
  readonly mayWrite: boolean;
}) {
  const { batches, species } = props.sheet;
  if (batches.length === 0) return <p>No eggs are written down as set.</p>;
  const dangers = [...new Set(batches.flatMap(({ danger }) => danger ?? []))];
  return (
    <>
      <ul className="boxes">
        {batches.map((box) => (
          <li key={box.id}>
            <p>
              <b>
                {box.label}: {box.eggs === 1 ? '1 egg' : `${box.eggs} eggs`}
              </b>
              {box.setOn ? `, set ${partialDateWords({ text: box.setOn })}` : ''}
              {box.celsius.length > 0
                ? `, at ${box.celsius.join(', then ')} °C`
                : ', temperature not written'}
            </p>
            {box.hatchWindow ? (
              <p>
                Young may hatch <b>{spanWords(box.hatchWindow)}</b>.
                <span className="small soft block">Source: {box.hatchWindow.source}</span>
              </p>
            ) : (
              <p>
                No hatching time is published
                {species ? (
                  <>
                    {' '}
                    that we could read for <i>{species}</i> at this temperature
                  </>
                ) : (
                  ': the species is not known'
                )}
                .
              </p>
            )}
            <p className={box.sexOutlook ? undefined : 'soft'}>
              {box.sexOutlook ??
                'What sex they become by temperature: not known for this box, or nothing is published.'}
            </p>
          </li>
        ))}
      </ul>
      {dangers.map((danger) => (
        <Caution key={danger} kind="harm" lead="Temperatures that harm.">
          {danger}
        </Caution>
      ))}
    </>
  );
}

function Mother(props: { readonly sheet: ClutchDetail; readonly programId: string }) {
  const { candidates, unrecorded } = props.sheet.dam;
  if (candidates.length === 0) return <p>Nobody wrote down who laid it.</p>;
  const [only] = candidates;
  if (only && candidates.length === 1 && unrecorded < 1e-9) {
    return (
      <p>
        <AnimalLink programId={props.programId} animal={only.animal} />
        {only.basis === 'OBSERVED' ? ', seen laying' : ''}
      </p>
    );
  }
  return (
    <CandidateLines
      lines={[
        ...candidates.map(({ animal, probability }) => ({
          key: animal.id,
          who: <AnimalLink programId={props.programId} animal={animal} />,
          probability,
        })),
        ...(unrecorded > 1e-9
          ? [
              {
                key: 'unrecorded',
                who: 'a female nobody recorded',
                probability: unrecorded,
                unrecorded: true,
              },
            ]
          : []),
      ]}
    />
  );
}

function Young(props: {
  readonly sheet: ClutchDetail;
  readonly answer: Answer;
  readonly programId: string;
}) {
  const { sheet, programId } = props;
  const lots = props.answer.lots.filter(({ code }) => sheet.lots.includes(code));
  if (sheet.clutch.animals.length === 0 && lots.length === 0) {
    return <p>None {sheet.stage === 'DONE' ? 'are in the books now' : 'yet'}.</p>;
  }
  return (
    <>
      {sheet.clutch.animals.length > 0 && (
        <ul className="young-list">
          {sheet.clutch.animals.map((animal) => (
            <li key={animal.id}>
              <AnimalLink programId={programId} animal={animal} />
            </li>
          ))}
        </ul>
      )}
      {lots.map((lot) => (
        <p key={lot.id}>
          <Link to={addresses.lot(programId, lot.id)}>
            Lot <span className="code">{lot.code}</span>
          </Link>
          : {lot.count} young{lot.pen ? ` in ${lot.pen}` : ''}
        </p>
      ))}
    </>
  );
}
