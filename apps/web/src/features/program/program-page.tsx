import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { TakeSpreadsheet } from '../../components/take-spreadsheet.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { HealthBand } from './health-band.js';
import { InviteMember } from './invite-member.js';
import { MemberList } from './member-list.js';
import { MembersQuery, ProgramQuery } from './program-documents.js';
import { ROLE_WORDS } from './roles.js';

/** The program itself: what it holds, who sees it, who may write. */
export function ProgramPage(props: {
  /** What the program assumes of its season. */
  readonly season?: ReactNode;
  /** How it leaves and comes back whole. */
  readonly copies: ReactNode;
}) {
  const program = useProgram();
  const { data, faults, again } = useRead(ProgramQuery, { programId: program.id });
  const count = data?.program.animalCount;
  return (
    <>
      <Opening
        title="Program"
        heading={
          <>
            Program <span className="soft">{program.name}</span>
          </>
        }
        sentence={
          count !== undefined && (
            <>
              <b>{count === 1 ? 'One animal' : `${count} animals`}</b> and all their records. You{' '}
              {ROLE_WORDS[program.role].does}.
            </>
          )
        }
      />
      <FaultNote faults={faults} again={again} />
      <div className="only-narrow">
        <Band title="More places" note="Those that the bar below has no room for.">
          <ul className="rows">
            <li>
              <Link to={addresses.lineages(program.id)}>Lineage</Link>
            </li>
            <li>
              <Link to={addresses.clutches(program.id)}>Clutches</Link>
            </li>
            <li>
              <Link to={addresses.writeDown(program.id)}>Write down</Link>
            </li>
            <li>
              <Link to={addresses.sales(program.id)}>Sales</Link>
            </li>
          </ul>
        </Band>
      </div>
      <Band title="The line" note="How much of what the founders brought is still here.">
        <HealthBand programId={program.id} />
      </Band>
      {props.season && (
        <Band title="The season" note="What is assumed where nobody wrote it down.">
          {props.season}
        </Band>
      )}
      <Band title="Genes and traits">
        <ul className="rows">
          <li>
            <Link to={addresses.definitions(program.id)}>
              Genes and traits, as they are defined
            </Link>
          </li>
          <li>
            <Link to={addresses.genes(program.id)}>Who carries what</Link>
          </li>
          <li>
            <Link to={addresses.species(program.id)}>What is known of the species</Link>
          </li>
        </ul>
      </Band>
      <Band title="Your spreadsheet" note="In and out, in one step each.">
        <ul className="rows">
          {program.mayWrite && (
            <li>
              <Link to={addresses.bringIn(program.id)}>Bring in a spreadsheet</Link>
            </li>
          )}
          <li>
            <TakeSpreadsheet programId={program.id} />
          </li>
        </ul>
      </Band>
      <Band title="Keep a copy" note="All of it, readable without this program.">
        {props.copies}
      </Band>
      <Band title="In the yard" note="On a phone with or without signal, or on paper.">
        <ul className="rows">
          <li>
            <Link to={addresses.round(program.id)}>Yard round</Link>
          </li>
          <li>
            <Link to={addresses.paper(program.id)}>Cards, labels, sheets and the stock book</Link>
          </li>
          {program.mayWrite && (
            <li>
              <Link to={addresses.kitchenTable(program.id)}>
                Tell it from the kitchen table: nicknames, years, who ran with whom
              </Link>
            </li>
          )}
        </ul>
      </Band>
      <Band title="Members" note="Who sees it, who may write.">
        {program.role === 'OWNER' ? (
          <Members programId={program.id} />
        ) : (
          <p>Only owners see who else is a member, and let others in.</p>
        )}
      </Band>
      <Band title="History" note="Nothing is overwritten unseen.">
        <p>
          <Link to={addresses.history(program.id)}>Every change, with Undo</Link>
        </p>
      </Band>
      <Band title="Another program" note="One breeding group and all its records each.">
        <p>
          <Link to={addresses.newProgram}>Begin an empty program</Link>
        </p>
      </Band>
    </>
  );
}

function Members({ programId }: { readonly programId: string }) {
  const { data, faults, again } = useRead(MembersQuery, { programId });
  return (
    <>
      <FaultNote faults={faults} again={again} />
      {!data && faults.length === 0 && <Skeleton lines={3} what="the members" />}
      {data && (
        <MemberList
          programId={programId}
          members={data.program.members}
          viewerId={data.viewer?.account.id ?? ''}
        />
      )}
      <InviteMember programId={programId} />
    </>
  );
}
