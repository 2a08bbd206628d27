import { Field, Float, ID, ObjectType, registerEnumType } from '@nestjs/graphql';
import { dayText, parsePartialDate } from '@scutewright/basics';
import { type Origin, originSchema, type Sex, sexSchema } from '@scutewright/commands';
import { connectionOf } from '../../graphql/connection.js';
import { enumType } from '../../graphql/input-from-zod.js';
import {
  candidatesOf,
  type ParentCandidate as ParentCandidateRow,
  penOf,
  sexFinding,
  unrecordedShare,
} from '../../snapshot/findings.js';
import { NO_DAY, NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { Program } from '../programs/program.types.js';

/** A type for its own sake: the decorator's metadata must not ask for a class that comes later. */
type Later<Type> = Type;

const SexEnum = enumType(sexSchema);
const OriginEnum = enumType(originSchema);

export const AnimalOrder = {
  CODE: 'CODE',
  HATCHED: 'HATCHED',
  LATEST: 'LATEST',
  SEX: 'SEX',
} as const;
export type AnimalOrder = keyof typeof AnimalOrder;
registerEnumType(AnimalOrder, {
  name: 'AnimalOrder',
  description: 'How a list of animals is sorted',
  valuesMap: {
    HATCHED: { description: 'Oldest first, those of unknown age last' },
    LATEST: { description: 'Hatched last first, those of unknown age last' },
    SEX: { description: 'Males, females, unknown' },
  },
});

@ObjectType({ description: 'A date as it is known: a year, a month or a day' })
export class PartialDate {
  @Field(() => String, { description: 'As written: 2011, 2011-06, 2011-06-03, with ~ for about' })
  text: string;
  @Field(() => String, { description: 'First day it may be, YYYY-MM-DD' }) earliest: string;
  @Field(() => String, { description: 'Last day it may be, YYYY-MM-DD' }) latest: string;
  @Field(() => String, { description: 'year, month or day' }) precision: string;
  @Field(() => Boolean, { description: 'Written as about' }) about: boolean;
}

/** The API's form of a stored partial date; null stays null. */
export function partialDateOf(text: string | null): PartialDate | null {
  const date = text === null ? null : parsePartialDate(text);
  return date && { ...date, earliest: dayText(date.earliest), latest: dayText(date.latest) };
}

@ObjectType({ description: 'What the records add up to about the sex' })
export class SexFinding {
  @Field(() => SexEnum) sex: Sex;
  @Field(() => [String], {
    description: 'The records it rests on, in words; empty where there are none',
  })
  why: string[];
}

@ObjectType({ description: 'An animal that may be the father or the mother' })
export class ParentCandidate {
  @Field(() => Animal) animal: Later<Animal>;
  @Field(() => Float, { description: 'Probability, over 0 to 1' }) probability: number;
  @Field(() => String, {
    description: 'OBSERVED, HOUSED_TOGETHER, TESTED, DECLARED, ASSUMED or BY_HAND',
  })
  basis: string;
}

@ObjectType({ description: 'What is known of one parent' })
export class ParentFinding {
  @Field(() => [ParentCandidate], { description: 'Most probable first' })
  candidates: ParentCandidate[];
  @Field(() => Float, { description: 'Probability that it is an animal nobody recorded, 0 to 1' })
  unrecorded: number;
}

@ObjectType({ description: 'One laying; its young share their parents' })
export class Clutch {
  @Field(() => ID) id: string;
  @Field(() => String, { nullable: true }) code: string | null;
  @Field(() => [Animal], { description: 'The animals that hatched from it' }) animals: Animal[];
}

@ObjectType({ description: 'Why an animal is not here any more' })
export class Gone {
  @Field(() => String, { description: 'died, left or escaped' }) how: string;
  @Field(() => String, { description: 'In words: sold, died (heat) ...' }) words: string;
  @Field(() => PartialDate, { nullable: true }) date: PartialDate | null;
}

@ObjectType({ description: 'A chip, notches or another mark; never a key' })
export class Mark {
  @Field(() => String, { description: 'CHIP, NOTCHES, TAG, PAINT, PHOTO or OTHER' }) scheme: string;
  @Field(() => String) text: string;
  @Field(() => Boolean, { description: 'Gone, or not to be read any more' }) isLost: boolean;
}

/** An animal as a row of a snapshot: every finding shown comes from that one revision. */
@ObjectType({ description: 'One individual' })
export class Animal {
  constructor(
    readonly snapshot: Snapshot,
    readonly position: number,
  ) {}

  @Field(() => ID) get id(): string {
    return this.snapshot.animals.ids[this.position];
  }
  @Field(() => String, { description: 'Unique in the program' }) get code(): string {
    return this.snapshot.animals.codes[this.position];
  }
  @Field(() => String, { nullable: true }) get name(): string | null {
    return this.snapshot.animals.names[this.position];
  }
  @Field(() => String, { description: 'Scientific name' }) get species(): string {
    return this.snapshot.animals.species[this.position];
  }
  @Field(() => OriginEnum) get origin(): Origin {
    return this.snapshot.animals.origins[this.position];
  }
  @Field(() => PartialDate, {
    nullable: true,
    description: 'When it hatched; null where nobody knows',
  })
  get hatched(): PartialDate | null {
    return partialDateOf(this.snapshot.animals.hatched[this.position]);
  }
  @Field(() => SexFinding) get sex(): SexFinding {
    return sexFinding(this.snapshot, this.position);
  }
  @Field(() => ParentFinding, { description: 'The possible fathers' }) get sire(): ParentFinding {
    return this.parent(this.snapshot.sires);
  }
  @Field(() => ParentFinding, { description: 'The possible mothers' }) get dam(): ParentFinding {
    return this.parent(this.snapshot.dams);
  }
  @Field(() => Clutch, {
    nullable: true,
    description: 'Null for a founder, and where it may be of several',
  })
  get clutch(): Clutch | null {
    const clutch = this.snapshot.animals.clutch[this.position];
    return clutch === NONE ? null : clutchAt(this.snapshot, clutch);
  }

  @Field(() => Gone, { nullable: true, description: 'Null: it is here, as far as is written' })
  get gone(): Gone | null {
    const gone = this.snapshot.season.gone.get(this.position);
    return gone ? { how: gone.how, words: gone.words, date: partialDateOf(gone.date) } : null;
  }
  @Field(() => String, { nullable: true, description: 'Name of the pen it is in today' })
  get pen(): string | null {
    const pen = penOf(this.snapshot, this.position);
    return pen === null ? null : this.snapshot.pens[pen].name;
  }
  @Field(() => [Mark], { description: 'Oldest first' }) get marks(): Mark[] {
    return [...(this.snapshot.season.marks.get(this.position) ?? [])];
  }
  @Field(() => String, {
    nullable: true,
    description: 'The last day it was seen, measured or moved, YYYY-MM-DD; null: not written',
  })
  get lastSeen(): string | null {
    const day = this.snapshot.season.lastSeen[this.position];
    return day === NO_DAY ? null : dayText(day);
  }

  private parent(columns: Snapshot['sires']): ParentFinding {
    return parentFinding(this.snapshot, candidatesOf(this.snapshot, columns, this.position));
  }
}

/** Candidates as the API shows them, with the share of a parent that nobody recorded. */
export function parentFinding(
  snapshot: Snapshot,
  found: readonly ParentCandidateRow[],
): ParentFinding {
  const candidates = found.map(({ position, probability, basis }) => ({
    animal: new Animal(snapshot, position),
    probability,
    basis,
  }));
  return { candidates, unrecorded: unrecordedShare(candidates) };
}

/** A clutch of a snapshot by its position. */
export function clutchAt(snapshot: Snapshot, clutch: number): Clutch {
  const { animals, clutches } = snapshot;
  return {
    id: clutches.ids[clutch],
    code: clutches.codes[clutch],
    get animals() {
      return Array.from(animals.clutch.keys())
        .filter((i) => animals.clutch[i] === clutch)
        .map((i) => new Animal(snapshot, i));
    },
  };
}

export const AnimalConnection = connectionOf(Animal, 'Animal');

@ObjectType({ description: 'An animal after an act' })
export class AnimalPayload {
  @Field(() => Animal) animal: Animal;
  @Field(() => ID, { description: 'Give it to undo' }) commandId: string;
  @Field(() => Program) program: Program;
}
