import { Link, useParams } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { RecordLines } from '../../components/record-lines.js';
import { Skeleton } from '../../components/skeleton.js';
import { WriteLink } from '../../components/write-link.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { LotsQuery } from './yard-documents.js';
import './yard.css';

const ACTS = [
  ['lot-counted', 'Count it'],
  ['lot-promoted', 'Give some codes'],
  ['colour-count', 'Colour check'],
  ['lot-died', 'Some died'],
  ['lot-lost', 'Some are missing'],
  ['lot-split', 'Split it'],
  ['lot-merged', 'Put it with another'],
  ['left', 'Some left'],
] as const;

/** A counted lot of young without codes: how many, of which clutches, and its book. */
export function LotPage() {
  const program = useProgram();
  const { lotId = '' } = useParams();
  const { data, faults, again } = useRead(LotsQuery, { programId: program.id });
  const lot = data?.lots.find(({ id }) => id === lotId);
  return (
    <>
      <Opening
        title={lot ? `Lot ${lot.code}` : 'Lot'}
        heading={
          lot && (
            <span className="figure">
              Lot <span className="code">{lot.code}</span>
            </span>
          )
        }
        trail={<Link to={addresses.yard(program.id)}>Who is where</Link>}
        sentence={
          lot && (
            <>
              <b>{lot.count} young</b> by the book
              {lot.clutches.length > 0 ? `, of ${lot.clutches.join(' and ')}` : ''}
              {lot.pen ? `, in ${lot.pen}` : ', in no pen'}.
            </>
          )
        }
        acts={
          lot &&
          program.mayWrite && (
            <>
              {ACTS.map(([form, words], k) => (
                <WriteLink
                  key={form}
                  programId={program.id}
                  form={form}
                  given={{ lot: lot.code }}
                  className={k === 0 ? 'act' : 'act line'}
                >
                  {words}
                </WriteLink>
              ))}
              <WriteLink
                programId={program.id}
                form="move"
                given={{ lots: lot.code }}
                className="act line"
              >
                Move it
              </WriteLink>
            </>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={8} what="the lot" />}
      {data && !lot && (
        <EmptyState title="No young are left in this lot">
          <p>
            All of them were named, sold, put with another lot or lost; what was written stays
            below.
          </p>
        </EmptyState>
      )}
      {data && (
        <Band title="Its book" note="Every count, latest first. It always balances.">
          <RecordLines
            programId={program.id}
            id={lotId}
            none="Nothing was written about this lot."
          />
        </Band>
      )}
    </>
  );
}
