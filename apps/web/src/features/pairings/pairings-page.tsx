import { useState } from 'react';
import { Link, useNavigate } from 'react-router';
import { AnimalFinder, type FoundAnimal } from '../../components/animal-finder.js';
import { Band } from '../../components/band.js';
import { Code } from '../../components/code.js';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import './pairings.css';

/** Where pairings are thought about: two animals, or one and all its possible mates. */
export function PairingsPage() {
  const program = useProgram();
  const navigate = useNavigate();
  const [sire, setSire] = useState<FoundAnimal | null>(null);
  const [dam, setDam] = useState<FoundAnimal | null>(null);
  const picker = (
    which: 'father' | 'mother',
    picked: FoundAnimal | null,
    pick: (animal: FoundAnimal | null) => void,
  ) =>
    picked ? (
      <p className="picked">
        <span className="small soft">{which === 'father' ? 'Father' : 'Mother'}</span>
        <b>
          <Code code={picked.code} name={picked.name} />
        </b>
        <button type="button" className="act quiet" onClick={() => pick(null)}>
          Another<span className="vh"> {which}</span>
        </button>
      </p>
    ) : (
      <AnimalFinder
        id={`pair-${which}`}
        programId={program.id}
        label={which === 'father' ? 'Father' : 'Mother'}
        placeholder="Code or name"
        isOut={({ sex }) => sex.sex === (which === 'father' ? 'FEMALE' : 'MALE')}
        onPick={pick}
      />
    );
  return (
    <>
      <Opening
        title="Pairings"
        sentence="Name two animals to see what their eggs can be, or one to see who suits it."
      />
      <Band title="Two animals" note="Odds, clutch, eggs needed, and what it costs in kinship.">
        <div className="choose-pair">
          {picker('father', sire, setSire)}
          {picker('mother', dam, setDam)}
        </div>
        {sire && dam ? (
          <Link className="act" to={addresses.odds(program.id, sire.code, dam.code)}>
            See what their eggs can be
          </Link>
        ) : (
          <p className="small soft">An animal not yet sexed can stand on either side.</p>
        )}
      </Band>
      <Band title="One animal" note="All its possible mates, in one order.">
        <div className="choose-pair">
          <AnimalFinder
            id="seeker"
            programId={program.id}
            label="Find mates for"
            placeholder="Code or name"
            onPick={(animal) => navigate(addresses.mates(program.id, animal.code))}
          />
        </div>
      </Band>
    </>
  );
}
