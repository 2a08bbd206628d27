import { Link, useParams, useSearchParams } from 'react-router';
import { Assumed } from '../../components/assumed.js';
import { Band } from '../../components/band.js';
import { Cautions } from '../../components/cautions.js';
import { Code } from '../../components/code.js';
import { EggTray } from '../../components/egg-tray.js';
import { EmptyState } from '../../components/empty-state.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { Said } from '../../components/said.js';
import { Skeleton } from '../../components/skeleton.js';
import { TakeAlong } from '../../components/take-along.js';
import { WideTable } from '../../components/wide-table.js';
import { addresses } from '../../lib/addresses.js';
import { chanceWords, inbreedingWords } from '../../lib/chance-words.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { eggsOf } from './clutch-size.js';
import { lot } from './outcome-trays.js';
import { type CrossAnswer, CrossOddsQuery, PairByCodeQuery } from './pairing-documents.js';
import './pairings.css';

/** Under one egg in forty a look is left out: hardly any pair is chosen for it. */
const LEAST = 0.025;

type Codes = readonly [string, string];

/** Two pairs side by side: what each can give and what it costs. */
export function BesidePage() {
  const program = useProgram();
  const { sire = '', dam = '', otherSire = '', otherDam = '' } = useParams();
  const [params] = useSearchParams();
  const eggs = eggsOf(params);
  const one = useCross(program.id, [sire, dam], eggs);
  const other = useCross(program.id, [otherSire, otherDam], eggs);
  const faults = [...one.faults, ...other.faults];
  const missing = [...one.missing, ...other.missing];
  const again = () => {
    one.again();
    other.again();
  };
  const title = `${sire} with ${dam} beside ${otherSire} with ${otherDam}`;
  return (
    <>
      <Opening
        title={title}
        trail={<Link to={addresses.pairings(program.id)}>Pairings</Link>}
        heading={
          <>
            <Code code={`${sire} with ${dam}`} /> <span className="soft">beside</span>{' '}
            <Code code={`${otherSire} with ${otherDam}`} />
          </>
        }
        sentence={one.answer && other.answer && <Said text={verdict(one, other)} />}
      />
      <FaultNote faults={faults} again={again} />
      {missing.length > 0 && (
        <EmptyState title={`No animal ${missing.join(', ')}`}>
          <p>A code may have changed since.</p>
        </EmptyState>
      )}
      {faults.length === 0 && missing.length === 0 && !(one.answer && other.answer) && (
        <Skeleton lines={14} what="the two pairs" />
      )}
      {one.answer && other.answer && (
        <>
          <div className="beside">
            <Pair programId={program.id} codes={one.codes} answer={one.answer} />
            <Pair programId={program.id} codes={other.codes} answer={other.answer} />
          </div>
          <Figures
            one={one.answer}
            other={other.answer}
            names={[one.name, other.name]}
            eggs={eggs}
          />
        </>
      )}
    </>
  );
}

function useCross(programId: string, codes: Codes, eggs: number) {
  const [sire, dam] = codes;
  const pair = useRead(PairByCodeQuery, { programId, sire, dam });
  const [sireId, damId] = [pair.data?.sire?.id ?? '', pair.data?.dam?.id ?? ''];
  const cross = useRead(CrossOddsQuery, { programId, sireId, damId, eggs }, !sireId || !damId);
  return {
    codes,
    name: `${sire} with ${dam}`,
    answer: sireId && damId ? cross.data?.crossOdds : undefined,
    faults: [...pair.faults, ...cross.faults],
    missing: pair.data ? [!pair.data.sire && sire, !pair.data.dam && dam].filter(Boolean) : [],
    again: () => {
      pair.again();
      cross.again();
    },
  };
}

interface Side {
  readonly name: string;
  readonly answer?: CrossAnswer;
}

/** Which gives more of the trait that most young of either show, and which costs more kinship. */
function verdict(one: Side, other: Side): string {
  const shares = (side: Side) =>
    new Map(side.answer?.targets.map(({ trait, share }) => [trait.name, share]));
  const [a, b] = [shares(one), shares(other)];
  const [best] = [...a.keys(), ...b.keys()].toSorted((x, y) => most(y, a, b) - most(x, a, b));
  if (best === undefined) return 'The program has no trait yet.';
  const [of, than] = [a.get(best), b.get(best)];
  const F = [one, other].map((side) => side.answer?.inbreeding.value ?? 0);
  const [f = 0, g = 0] = F;
  const cost =
    Math.abs(f - g) < 0.0005
      ? `both have F ${inbreedingWords(f)}`
      : `F ${inbreedingWords(f)} against ${inbreedingWords(g)}`;
  return `Of the young ${of?.said ?? 'none'} against ${than?.said ?? 'none'} should be ${best}; ${cost}.`;
}

type Shares = ReadonlyMap<string, { readonly value: number }>;
const most = (name: string, a: Shares, b: Shares) =>
  Math.max(a.get(name)?.value ?? 0, b.get(name)?.value ?? 0);

function Pair(props: {
  readonly programId: string;
  readonly codes: Codes;
  readonly answer: CrossAnswer;
}) {
  const { codes, answer } = props;
  const shown = answer.targets
    .filter(({ share }) => share.value >= LEAST)
    .toSorted((a, b) => b.share.value - a.share.value);
  return (
    <div>
      <h2>
        <Link to={addresses.odds(props.programId, codes[0], codes[1])}>
          <Code code={`${codes[0]} with ${codes[1]}`} />
        </Link>
      </h2>
      {shown.length === 0 && <p>No young of theirs can show a trait, or hardly any.</p>}
      {shown.map((target) => (
        <div key={target.trait.id}>
          <h3>{target.trait.name}</h3>
          <EggTray fine lots={target.looks.map((look) => lot(look, true))} />
        </div>
      ))}
      <Cautions cautions={answer.cautions} />
      <Assumed of={codes.join(' with ')} lines={answer.assumptions} />
    </div>
  );
}

function Figures(props: {
  readonly one: CrossAnswer;
  readonly other: CrossAnswer;
  readonly names: readonly [string, string];
  readonly eggs: number;
}) {
  const { one, other, names } = props;
  const likely = (target: Target | undefined) => (target?.share.value ?? 0) >= LEAST;
  const traits = one.targets.filter(
    (target) => likely(target) || likely(of(other, target.trait.id)),
  );
  const lines = [
    ...traits.flatMap(({ trait }) => linesOf(trait.name, of(one, trait.id), of(other, trait.id))),
    { key: 'F', what: 'F of the young', figures: [fWords(one), fWords(other)] },
  ];
  return (
    <Band title="In figures" note={`A clutch of which ${props.eggs} hatch.`}>
      <WideTable label="Figures of the two pairs">
        <table className="beside-figures">
          <thead>
            <tr>
              <th scope="col">What</th>
              {names.map((name) => (
                <th scope="col" key={name}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {lines.map(({ key, what, figures }) => (
              <tr key={key}>
                <th scope="row">{what}</th>
                <td>{figures[0]}</td>
                <td>{figures[1]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </WideTable>
      <TakeAlong
        file="two-pairs"
        of="the two pairs"
        columns={['what', ...names]}
        rows={() => lines.map(({ what, figures }) => [what, ...figures])}
      />
    </Band>
  );
}

type Target = CrossAnswer['targets'][number];
const of = (answer: CrossAnswer, id: string) => answer.targets.find(({ trait }) => trait.id === id);

function linesOf(name: string, a: Target | undefined, b: Target | undefined) {
  const cells: [string, (target: Target) => string][] = [
    [`${name}, of the young`, ({ share }) => (share.value === 0 ? 'none' : share.said)],
    ['at least one in the clutch', ({ atLeastOne }) => chanceWords(atLeastOne.value)],
    [
      'eggs to be 95 in 100 sure of one',
      ({ eggsNeeded, limit }) =>
        String(
          eggsNeeded.find(({ level }) => level === 0.95)?.eggs ??
            `not attainable, limit ${limit.said}`,
        ),
    ],
  ];
  return cells.map(([what, say]) => ({
    key: name + what,
    what: what.startsWith(name) ? what : `${name}, ${what}`,
    figures: [a, b].map((target) => (target ? say(target) : 'none')),
  }));
}

function fWords({ inbreeding }: CrossAnswer): string {
  const { value, lowest, highest } = inbreeding;
  const range =
    lowest === highest ? '' : `, ${inbreedingWords(lowest)} to ${inbreedingWords(highest)}`;
  return `${inbreedingWords(value)}${range}`;
}
