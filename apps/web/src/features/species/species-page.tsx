import { Link } from 'react-router';
import { Band } from '../../components/band.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { FactLine } from './fact-line.js';
import { type SpeciesProfile, SpeciesQuery } from './species-documents.js';
import './species.css';

/** What is shipped of the program's species, with sources, and what the program sets in its place. */
export function SpeciesPage() {
  const program = useProgram();
  const { data, faults, again } = useRead(SpeciesQuery, { programId: program.id });
  const species = data?.species;
  return (
    <>
      <Opening
        title="Species"
        trail={<Link to={addresses.program(program.id)}>Program</Link>}
        sentence={species && <SpeciesSentence species={species} />}
      />
      <FaultNote faults={faults} again={again} />
      {!species && faults.length === 0 && <Skeleton lines={10} what="the species" />}
      {species?.length === 0 && (
        <EmptyState title="No species yet">
          <p>They come with the first animals.</p>
        </EmptyState>
      )}
      {species?.map((profile) => (
        <Band
          key={profile.species}
          title={profile.species}
          note={
            profile.isShipped
              ? 'Published figures are of other people’s animals: your own records are better.'
              : 'Nothing is shipped of this species; set what you know.'
          }
        >
          <ul className="species-facts">
            {profile.facts.map((fact) => (
              <FactLine key={fact.name + fact.value} species={profile.species} fact={fact} />
            ))}
          </ul>
        </Band>
      ))}
    </>
  );
}

function SpeciesSentence({ species }: { readonly species: readonly SpeciesProfile[] }) {
  const facts = species.flatMap((profile) => profile.facts);
  const own = facts.filter((fact) => fact.own.length > 0).length;
  const sourced = facts.filter(({ source }) => source !== null).length;
  return (
    <>
      <b>{sourced} facts</b> came with their sources, and{' '}
      <b>{own === 0 ? 'none is' : own === 1 ? 'one is' : `${own} are`}</b> set by you.
    </>
  );
}
