import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { AdultsBand } from './adults-band.js';
import { ErasBand } from './eras-band.js';
import { FirstAnswers } from './first-answers.js';
import { PalesBand } from './pales-band.js';
import './start.css';
import { StartQuery } from './start-documents.js';
import { YardBand } from './yard-band.js';

/** From the kitchen table: no spreadsheet, any order, each line kept as it is told. */
export function StartPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(StartQuery, { programId: program.id });
  const animals = data?.animals.edges.map(({ node }) => node) ?? [];
  return (
    <>
      <Opening
        title="From the kitchen table"
        heading={
          <>
            From the kitchen table <span className="soft">no spreadsheet needed</span>
          </>
        }
        sentence={
          animals.length === 0 ? (
            'Tell it as you would tell a friend: nicknames, years give or take.'
          ) : (
            <>
              <b>
                {data?.animals.totalCount === 1
                  ? 'One animal'
                  : `${data?.animals.totalCount} animals`}
              </b>{' '}
              told. Go on anywhere, in any order.
            </>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={12} what="what was told" />}
      {data && !program.mayWrite && (
        <p>You read this program; a keeper or an owner can tell it more.</p>
      )}
      {data && program.mayWrite && (
        <>
          <p className="soft how-told">
            Each line is written down as you add it. Close the lid when you like; on any device this
            page goes on where you stopped.
          </p>
          <AdultsBand programId={program.id} animals={animals} total={data.animals.totalCount} />
          <ErasBand programId={program.id} told={data} animals={animals} />
          <PalesBand programId={program.id} told={data} animals={animals} />
          <YardBand
            programId={program.id}
            settings={data.seasonSettings}
            isOwner={program.role === 'OWNER'}
          />
          <FirstAnswers
            programId={program.id}
            animals={animals}
            hasTrait={data.definitions.traits.length > 0}
          />
        </>
      )}
    </>
  );
}
