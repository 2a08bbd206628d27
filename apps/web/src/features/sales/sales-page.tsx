import { useState } from 'react';
import { Link, useLocation, useNavigate, useSearchParams } from 'react-router';
import { AnimalFinder } from '../../components/animal-finder.js';
import { AnimalLink } from '../../components/animal-link.js';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Cautions } from '../../components/cautions.js';
import { Code } from '../../components/code.js';
import { FaultNote } from '../../components/fault-note.js';
import { GeneFindings } from '../../components/gene-finding.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { addresses } from '../../lib/addresses.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { type BuyerAnimal, buyerHash, buyerOf } from './buyer.js';
import { BuyerFilePick } from './buyer-file.js';
import { BuyerTyped } from './buyer-typed.js';
import { KinMatrix } from './kin-matrix.js';
import { KnownTable } from './known-table.js';
import { Letter } from './letter.js';
import { animalIdsOf, type SaleCheck, SaleCheckQuery } from './sale-documents.js';
import './sales.css';

const MOST = 40;

/** Some animals before they go: how related, also to the buyer's own, what they carry, what must be told. */
export function SalesPage() {
  const program = useProgram();
  const navigate = useNavigate();
  const { hash } = useLocation();
  const [params] = useSearchParams();
  const ids = animalIdsOf(params);
  const buyer = buyerOf(hash);
  const go = (animalIds: readonly string[], theirs: readonly BuyerAnimal[]) => {
    const next = new URLSearchParams(params);
    if (animalIds.length > 0) next.set('animals', animalIds.join(','));
    else next.delete('animals');
    navigate({ search: next.toString(), hash: buyerHash(theirs) }, { preventScrollReset: true });
  };
  const { data, waiting, faults, again } = useRead(
    SaleCheckQuery,
    { programId: program.id, animalIds: ids, buyer },
    ids.length === 0,
  );
  const check = ids.length > 0 ? data?.saleCheck : undefined;
  const asked = buyer.filter(({ isAsked }) => isAsked);
  return (
    <>
      <Opening
        title="Before a sale"
        sentence={
          ids.length === 0
            ? 'Choose the animals that go, and those they go to, to see what can honestly be said.'
            : check && <Said text={check.sentence} />
        }
        acts={
          ids.length > 0 && (
            <Link className="act" to={addresses.saleSheets(program.id, ids)}>
              Sale sheets to print
            </Link>
          )
        }
      />
      <Band title="Who goes" note="Animals of this program.">
        <div className="sale-pick">
          {ids.length + asked.length < MOST && (
            <AnimalFinder
              id="sale-add"
              programId={program.id}
              label={ids.length === 0 ? 'Animal' : 'One more animal'}
              placeholder="Code or name"
              isOut={(animal) => ids.includes(animal.id)}
              onPick={(animal) => go([...ids, animal.id], buyer)}
            />
          )}
          {check && (
            <ul className="chosen" aria-busy={waiting}>
              {check.animals
                .filter(({ id }) => ids.includes(id))
                .map((animal) => (
                  <li key={animal.id}>
                    <span>
                      <Code code={animal.code} name={animal.name} />
                    </span>
                    <button
                      type="button"
                      onClick={() =>
                        go(
                          ids.filter((id) => id !== animal.id),
                          buyer,
                        )
                      }
                    >
                      Leave out<span className="vh"> {animal.code}</span>
                    </button>
                  </li>
                ))}
            </ul>
          )}
        </div>
      </Band>
      {ids.length > 0 && (
        <Band title="The buyer's own" note="Kept in this page's address alone, never in the books.">
          {asked.length > 0 && (
            <ul className="chosen">
              {asked.map(({ code }) => (
                <li key={code}>
                  <span>
                    <Code code={code} />
                  </span>
                  <button
                    type="button"
                    onClick={() =>
                      go(
                        ids,
                        buyer.filter((each) => each.code !== code),
                      )
                    }
                  >
                    Leave out<span className="vh"> {code}</span>
                  </button>
                </li>
              ))}
            </ul>
          )}
          <AddBuyers programId={program.id} buyer={buyer} onChange={(next) => go(ids, next)} />
        </Band>
      )}
      <FaultNote faults={faults} again={again} />
      {ids.length > 0 && !check && faults.length === 0 && (
        <Skeleton lines={12} what="what can be said" />
      )}
      {check && <WhatCanBeSaid programId={program.id} check={check} />}
    </>
  );
}

/** Two ways to name the buyer's animals; nothing open until one is chosen. */
function AddBuyers(props: {
  readonly programId: string;
  readonly buyer: readonly BuyerAnimal[];
  readonly onChange: (buyer: BuyerAnimal[]) => void;
}) {
  const [way, setWay] = useState<'typed' | 'file' | null>(null);
  const { programId, buyer, onChange } = props;
  const add = (animals: readonly BuyerAnimal[]) => {
    const codes = new Set(animals.map(({ code }) => code));
    onChange([...buyer.filter(({ code }) => !codes.has(code)), ...animals]);
  };
  return (
    <>
      <p className="acts buyer-ways">
        {(['typed', 'file'] as const).map((each) => (
          <button
            key={each}
            type="button"
            className="act line"
            aria-expanded={way === each}
            onClick={() => setWay(way === each ? null : each)}
          >
            {each === 'typed' ? 'Type one in' : 'From their file'}
          </button>
        ))}
      </p>
      {way === 'typed' && (
        <BuyerTyped
          programId={programId}
          taken={buyer.map(({ code }) => code)}
          onAdd={(animal) => add([animal])}
        />
      )}
      {way === 'file' && (
        <BuyerFilePick
          programId={programId}
          onChoose={(animals) => {
            add(animals);
            setWay(null);
          }}
        />
      )}
    </>
  );
}

const EVERYWHERE = '';

function WhatCanBeSaid({
  programId,
  check,
}: {
  readonly programId: string;
  readonly check: SaleCheck;
}) {
  const [params, setParams] = useSearchParams();
  const { hash } = useLocation();
  const navigate = useNavigate();
  const where = params.get('where') ?? EVERYWHERE;
  const places = [
    ...new Set(check.cautions.map(({ jurisdiction }) => jurisdiction).filter((each) => !!each)),
  ] as string[];
  const cautions = check.cautions.filter(
    ({ jurisdiction }) => where === EVERYWHERE || !jurisdiction || jurisdiction === where,
  );
  const choose = (place: string) => {
    const next = new URLSearchParams(params);
    if (place === EVERYWHERE) next.delete('where');
    else next.set('where', place);
    if (hash === '') setParams(next, { replace: true, preventScrollReset: true });
    else navigate({ search: next.toString(), hash }, { replace: true, preventScrollReset: true });
  };
  return (
    <>
      {check.animals.length > 1 && (
        <section className="kin-band" aria-labelledby="kin">
          <h2 id="kin">How related</h2>
          <KinMatrix programId={programId} check={check} />
          <Assumed of="the kinship" lines={check.assumptions} />
        </section>
      )}
      <Band
        title="How much is known"
        note="Of parents, grandparents and great-grandparents. Unknown is not unrelated."
      >
        <KnownTable programId={programId} animals={check.animals} />
      </Band>
      <Band title="What you must tell" note="Before money changes hands.">
        {places.length > 0 && (
          <div className="field where">
            <label htmlFor="where">Law of</label>
            <select id="where" value={where} onChange={(event) => choose(event.target.value)}>
              <option value={EVERYWHERE}>every place we know of</option>
              {places.map((place) => (
                <option key={place}>{place}</option>
              ))}
              <option value="elsewhere">elsewhere</option>
            </select>
          </div>
        )}
        <Cautions cautions={cautions} />
        {where === 'elsewhere' && (
          <p>
            No rule of another place is held here. That says nothing about whether there is one: ask
            the authorities of both places.
          </p>
        )}
        <ul className="must-tell">
          {check.mustTell.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Band>
      <Band
        title="What each carries"
        note="With the records it rests on. Of the buyer's nothing is recorded."
      >
        {check.genes.map((row) => (
          <div key={row.animal.id}>
            <h3>
              <AnimalLink programId={programId} animal={row.animal} />
            </h3>
            <GeneFindings animalId={row.animal.id} findings={row.findings} />
          </div>
        ))}
      </Band>
      <Band
        title="For the buyer"
        note="Claims nothing the records do not hold. Read it before you send it."
      >
        <Letter text={check.letter} />
      </Band>
    </>
  );
}
