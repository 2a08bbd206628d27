import { useDeferredValue, useState } from 'react';
import { Link, useSearchParams } from 'react-router';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { WriteLink } from '../../components/write-link.js';
import { addresses } from '../../lib/addresses.js';
import { dayOfText, todayText } from '../../lib/calendar.js';
import { partialDateWords } from '../../lib/date-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { DayPicker } from './day-picker.js';
import { MoveTray } from './move-tray.js';
import { type Chosen, FIRST_SHOWN, PenBox } from './pen-box.js';
import { YardQuery } from './yard-documents.js';
import './yard.css';

/** Who was, is or will be where on a day; whoever is chosen is moved together. */
export function YardPage() {
  const program = useProgram();
  const [params, setParams] = useSearchParams();
  const today = todayText();
  const asked = params.get('on');
  const day = asked && dayOfText(asked) !== null ? asked : today;
  const settled = useDeferredValue(day);
  // Nobody leaves some programs: thousands may be in no pen, and few of them are looked for here.
  const [isAllUnplaced, setIsAllUnplaced] = useState(false);
  const { data, faults, again } = useRead(YardQuery, {
    programId: program.id,
    on: settled,
    unplaced: isAllUnplaced ? null : FIRST_SHOWN,
  });
  const [chosen, setChosen] = useState<readonly Chosen[]>([]);
  const yard = data?.yard;
  const show = (next: string) =>
    setParams(next === today ? {} : { on: next }, { replace: true, preventScrollReset: true });
  const turn = (these: readonly Chosen[]) => {
    const turned = new Set(these.map(({ id }) => id));
    const were = new Set(chosen.map(({ id }) => id));
    setChosen([
      ...chosen.filter(({ id }) => !turned.has(id)),
      ...these.filter(({ id }) => !were.has(id)),
    ]);
  };
  const box = { programId: program.id, chosen, turn, mayWrite: program.mayWrite };
  return (
    <>
      <Opening
        title="Who is where"
        heading={
          <>
            Who is where <span className="soft">{partialDateWords({ text: day })}</span>
          </>
        }
        trail={<Link to={addresses.pens(program.id)}>Pens</Link>}
        sentence={yard && <Said text={yard.sentence} />}
        acts={
          program.mayWrite && (
            <>
              <Link className="act line" to={addresses.addPen(program.id)}>
                Add a pen
              </Link>
              <WriteLink programId={program.id} form="stayed" className="act line">
                Was in a pen
              </WriteLink>
              <WriteLink programId={program.id} form="seen" className="act line">
                Seen, counted
              </WriteLink>
              <WriteLink programId={program.id} form="breach" className="act line">
                Fence stood open
              </WriteLink>
            </>
          )
        }
      />
      <DayPicker day={day} today={today} onChange={show} />
      <FaultNote faults={faults} again={again} />
      {!yard && faults.length === 0 && <Skeleton lines={12} what="the yard" />}
      {yard && yard.pens.length === 0 && (
        <EmptyState title="No pen yet">
          <p>
            Add the first one with its name and, if you know it, its size. Then choose the animals
            that live there and move them in: from that day on the tool knows who met whom.
          </p>
        </EmptyState>
      )}
      {yard && (
        <div className="yard-boxes">
          {yard.pens.map((pen) => (
            <PenBox
              key={pen.id}
              {...box}
              title={pen.name}
              address={addresses.pen(program.id, pen.id)}
              about={aboutPen(pen)}
              animals={pen.occupants.map(({ animal, since }) => ({ ...animal, since }))}
              lots={pen.lots}
            />
          ))}
          {yard.unplacedCount + yard.unplacedLots.length > 0 && (
            <PenBox
              {...box}
              title="In no pen"
              about="In the books, but nobody wrote where."
              animals={yard.unplaced}
              count={yard.unplacedCount}
              askRest={() => setIsAllUnplaced(true)}
              lots={yard.unplacedLots}
            />
          )}
        </div>
      )}
      {yard && program.mayWrite && chosen.length > 0 && (
        <MoveTray
          key={day}
          programId={program.id}
          chosen={chosen}
          pens={yard.pens.map(({ name }) => name)}
          day={day}
          onDone={() => setChosen([])}
        />
      )}
    </>
  );
}

function aboutPen(pen: {
  readonly areaM2: number | null;
  readonly isQuarantine: boolean;
  readonly capacity: number | null;
}): string {
  return [
    pen.isQuarantine ? 'quarantine' : '',
    pen.areaM2 === null ? 'size not known' : `${pen.areaM2} m²`,
    pen.capacity === null ? '' : `meant for ${pen.capacity}`,
  ]
    .filter(Boolean)
    .join(', ');
}
