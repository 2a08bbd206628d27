import { useState } from 'react';
import { Link, useNavigate, useSearchParams } from 'react-router';
import { AnimalFinder, type FoundAnimal } from '../../components/animal-finder.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Code } from '../../components/code.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { LeftOut } from './mates-page.js';
import { SeasonQuery } from './pairing-documents.js';
import { settingsOf } from './season-address.js';
import { SeasonList } from './season-list.js';
import { SeasonSettingsForm } from './season-settings.js';
import { SetApart, TakePairs } from './weighed-pair.js';
import './pairings.css';

const SHOWN = 10;
const MOST = 200;

/** Who goes with whom this season; and where one asks for two animals, or for all mates of one. */
export function PairingsPage() {
  const program = useProgram();
  const [params] = useSearchParams();
  const [shown, setShown] = useState(SHOWN);
  const { data, waiting, faults, again } = useRead(SeasonQuery, {
    programId: program.id,
    traitId: params.get('trait'),
    first: shown,
    settings: settingsOf(params),
  });
  const answer = data?.seasonPairings;
  const more = answer ? Math.min(MOST, answer.females) - answer.pairs.length : 0;
  return (
    <>
      <Opening
        title="Pairings"
        heading="Who goes with whom"
        sentence={answer && <Said text={answer.sentence} />}
      />
      <FaultNote faults={faults} again={again} />
      <ChoosePair programId={program.id} />
      {!answer && faults.length === 0 && <Skeleton lines={14} what="the pairs" />}
      {answer && data && (
        <>
          <SeasonSettingsForm
            traits={data.genotypeOdds.traits}
            traitId={answer.trait.id}
            settings={answer.settings}
            waiting={waiting}
            note={`${answer.weighed} pairs weighed, the best of each of ${answer.females} females kept. Choosing acts at once and stays in the address.`}
          />
          <Band
            title="In this order"
            note="The best male of each female. Multiplied, the parts give the healthy young of the sought kind to expect."
          >
            {answer.pairs.length === 0 ? (
              <EmptyState title="Nobody to pair">
                <p>
                  It takes a grown male and a grown female of one species that live with you, within
                  what you chose above.
                </p>
              </EmptyState>
            ) : (
              <SeasonList programId={program.id} pairs={answer.pairs} />
            )}
            {more > 0 && (
              <button type="button" className="act line" onClick={() => setShown(shown + 20)}>
                Show more<span className="vh"> pairs</span>, {more} are left
              </button>
            )}
            <TakePairs
              file="who goes with whom"
              trait={answer.trait.name}
              pairs={answer.pairs.map(({ pair }) => pair)}
            />
            <Assumed of="the order" lines={answer.assumptions} />
          </Band>
          {(answer.leftOut.length > 0 || answer.over.length > 0) && (
            <Band title="Why not these" note="They were looked at too.">
              {answer.over.length > 0 && (
                <SetApart programId={program.id} pairs={answer.over} trait={answer.trait.name} />
              )}
              <LeftOut lines={answer.leftOut} />
            </Band>
          )}
        </>
      )}
    </>
  );
}

/** Two animals to see their odds, or one to see its mates. */
function ChoosePair({ programId }: { readonly programId: string }) {
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
        programId={programId}
        label={which === 'father' ? 'Father' : 'Mother'}
        placeholder="Code or name"
        isOut={({ sex }) => sex.sex === (which === 'father' ? 'FEMALE' : 'MALE')}
        onPick={pick}
      />
    );
  return (
    <Band title="Ask for some" note="Two animals: what their eggs can be. One: who suits it.">
      <div className="choose-pair">
        {picker('father', sire, setSire)}
        {picker('mother', dam, setDam)}
        <AnimalFinder
          id="seeker"
          programId={programId}
          label="All mates of"
          placeholder="Code or name"
          onPick={(animal) => navigate(addresses.mates(programId, animal.code))}
        />
      </div>
      {sire && dam && (
        <Link className="act" to={addresses.odds(programId, sire.code, dam.code)}>
          See what their eggs can be
        </Link>
      )}
    </Band>
  );
}
