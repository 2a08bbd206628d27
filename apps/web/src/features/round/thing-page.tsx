import type { ReactNode } from 'react';
import { Link } from 'react-router';
import { Opening } from '../../components/opening.js';
import { addresses } from '../../lib/addresses.js';
import { partialDateWords } from '../../lib/date-words.js';
import { type Act, named } from './act.js';
import { type ActDesk, ActForm } from './act-form.js';
import { actsOfAnimal } from './acts-of-animal.js';
import { actsOfClutch } from './acts-of-clutch.js';
import { actsOfLot } from './acts-of-lot.js';
import { actsOfAway } from './acts-of-pen.js';
import type { RoundClutch, RoundCopy } from './round-documents.js';
import { AWAY, EGGS, NO_PEN, type Stop } from './stops.js';
import { animalWords } from './with-queue.js';

/** An animal, clutch, lot or animal away, as the round opens it. */
export interface Thing {
  /** As the address says it. */
  readonly key: string;
  readonly address: Record<string, string>;
  readonly title: string;
  readonly sentence: ReactNode;
  readonly more: ReactNode;
  readonly acts: readonly Act[];
  /** Animals that count as seen by what is written of it. */
  readonly animals: readonly string[];
  /** The stop it is found at, where that is not the one the walk came from. */
  readonly stop?: string;
}

/** What the address opens; null where it opens a stop. Labels name things by id, what was just made goes by its code. */
export function thingOf(copy: RoundCopy, params: URLSearchParams): Thing | null {
  const at = <Row extends { id: string; code: string }>(kind: string, rows: readonly Row[]) => {
    const asked = params.get(kind);
    return asked === null ? undefined : rows.find(({ id, code }) => id === asked || code === asked);
  };
  const thing = (kind: string, { id }: { id: string }, rest: Omit<Thing, 'key' | 'address'>) => ({
    key: `${kind} ${id}`,
    address: { [kind]: id },
    ...rest,
  });
  const animal = at('animal', copy.animals);
  if (animal) {
    return thing('animal', animal, {
      title: named(animal),
      sentence: (
        <>
          {animalWords(animal)}
          {animal.weighed && `, weighed ${partialDateWords({ text: animal.weighed })}`}.
        </>
      ),
      more: (
        <>
          {animal.marks.length > 0 && <p>Marks: {animal.marks.join('; ')}</p>}
          <p>
            <Link to={addresses.animal(copy.programId, animal.id)}>
              All its records (with signal)
            </Link>
          </p>
          <p className="small soft">DNA tests, and what a seller said, are written there.</p>
        </>
      ),
      acts: actsOfAnimal(animal, copy),
      animals: [animal.id],
    });
  }
  const lot = at('lot', copy.lots);
  if (lot) {
    return thing('lot', lot, {
      title: `Lot ${lot.code}`,
      sentence: (
        <>
          <b>{lot.count}</b> young by the book.
        </>
      ),
      more: null,
      acts: actsOfLot(lot, copy),
      animals: [],
    });
  }
  const clutch = at('clutch', copy.clutches);
  if (clutch) {
    return thing('clutch', clutch, {
      title: clutch.code,
      sentence: clutchWords(clutch),
      more: null,
      acts: actsOfClutch(clutch, copy),
      animals: [],
      stop: EGGS,
    });
  }
  // Its label still says 'animal'.
  const away = at('away', copy.away) ?? at('animal', copy.away);
  return away
    ? thing('away', away, {
        title: named(away),
        sentence: `${away.words}${away.since ? ` since ${partialDateWords({ text: away.since })}` : ''}.`,
        more: null,
        acts: actsOfAway(away, copy),
        animals: [away.id],
      })
    : null;
}

/** What is not in the copy, by what its label names; where it is looked up with signal, and why it may be missing. */
const MISSING = {
  animal: {
    words: 'This animal is not among those here.',
    why: 'It may have died or left, or have been added since the copy on this phone was made.',
    address: addresses.animal,
  },
  clutch: {
    words: 'This clutch is not kept on the phone.',
    why: 'It was laid more than two years ago, or added since the copy on this phone was made.',
    address: addresses.clutch,
  },
  lot: {
    words: 'This lot is not among those here.',
    why: 'None of its young are left, or it was added since the copy on this phone was made.',
    address: addresses.lot,
  },
  pen: {
    words: 'This pen is not in the yard.',
    why: 'It was taken away, or added since the copy on this phone was made.',
    address: addresses.pen,
  },
} as const;

/** Says that what a label names is not on this phone, and what to do; nothing where it is, or none is named. */
export function NotHere(props: {
  readonly copy: RoundCopy;
  readonly params: URLSearchParams;
  readonly stops: readonly Stop[];
}) {
  const { copy, params, stops } = props;
  const kind = (['animal', 'clutch', 'lot', 'pen'] as const).find((each) => params.has(each));
  const asked = kind && params.get(kind);
  if (!kind || !asked) return null;
  const isStop = [NO_PEN, EGGS, AWAY].includes(asked) || stops.some(({ key }) => key === asked);
  if (kind === 'pen' && isStop) return null;
  const { words, why, address } = MISSING[kind];
  return (
    <div className="not-here" role="alert">
      <p>
        <b>{words}</b> {why}
      </p>
      <p>
        With signal the copy is made anew by itself. Without, look it up below, or write what you
        saw as a note on another animal of the pen and mend it at the desk.
      </p>
      <Link to={address(copy.programId, asked)}>All its records (with signal)</Link>
    </div>
  );
}

/** `12 eggs of F2, laid 9 May 2026; 6 in a box at 31.5 °C; 4 still open`. */
export function clutchWords({ eggs, mothers, laid, boxes, open }: RoundClutch): string {
  const boxed = boxes.map(
    ({ eggs: set, celsius }) => `${set} in a box${celsius === null ? '' : ` at ${celsius} °C`}`,
  );
  return [
    `${eggs ?? 'Uncounted'} eggs of ${mothers.join(' or ') || 'a mother not known'}${laid ? `, laid ${partialDateWords({ text: laid })}` : ''}`,
    ...boxed,
    open === null ? '' : open > 0 ? `${open} still open` : 'all written down',
  ]
    .filter(Boolean)
    .join('; ');
}

/** A thing with all that can be written of it, or the form of one act. */
export function OneThing(props: {
  readonly thing: Thing;
  readonly copy: RoundCopy;
  readonly desk: ActDesk;
  readonly go: (to: Record<string, string>) => void;
  readonly act: string | null;
  readonly stop: Stop;
}) {
  const { thing, go, desk } = props;
  const act = thing.acts.find(({ key }) => key === props.act);
  return (
    <>
      <Opening
        title={thing.title}
        trail={
          <button
            type="button"
            className="act quiet"
            onClick={() => go(thing.stop ? { pen: thing.stop } : {})}
          >
            Back to {thing.stop === EGGS ? 'the clutches' : props.stop.name}
          </button>
        }
        sentence={thing.sentence}
      />
      {act ? (
        <ActForm
          act={act}
          animals={thing.animals}
          desk={desk}
          onLeave={() => go(thing.address)}
          onWritten={() => go(act.isEnd ? {} : thing.address)}
        />
      ) : (
        <>
          <ActGrid acts={thing.acts} onAct={(key) => go({ ...thing.address, act: key })} />
          {thing.more}
        </>
      )}
    </>
  );
}

export function ActGrid(props: {
  readonly acts: readonly Act[];
  readonly onAct: (key: string) => void;
}) {
  return (
    <nav className="act-grid" aria-label="Write down">
      {props.acts.map(({ key, title }) => (
        <button key={key} type="button" onClick={() => props.onAct(key)}>
          {title}
        </button>
      ))}
    </nav>
  );
}
