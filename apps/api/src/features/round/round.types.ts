import { Field, Float, ID, Int, ObjectType } from '@nestjs/graphql';
import { dayText } from '@scutewright/basics';
import { type Sex, sexSchema } from '@scutewright/commands';
import { enumType } from '../../graphql/input-from-zod.js';
import { sexOf } from '../../snapshot/findings.js';
import { NO_DAY, type Snapshot } from '../../snapshot/snapshot.js';

const SexEnum = enumType(sexSchema);

/** A row of a snapshot: what nobody asks for is not worked out, five thousand times. */
@ObjectType({ description: 'An animal as a phone keeps it for the round' })
export class RoundAnimal {
  constructor(
    private readonly snapshot: Snapshot,
    private readonly position: number,
    readonly pen: number | undefined,
    readonly photo: string | undefined,
  ) {}

  @Field(() => ID) get id(): string {
    return this.snapshot.animals.ids[this.position];
  }
  @Field(() => String) get code(): string {
    return this.snapshot.animals.codes[this.position];
  }
  @Field(() => String, { nullable: true }) get name(): string | null {
    return this.snapshot.animals.names[this.position];
  }
  @Field(() => SexEnum) get sex(): Sex {
    return sexOf(this.snapshot, this.position);
  }
  @Field(() => ID, { nullable: true, description: 'Null: in no pen' })
  get penId(): string | null {
    return this.pen === undefined ? null : this.snapshot.pens[this.pen].id;
  }
  @Field(() => [String], { description: 'Chips, notches, tags that can still be read' })
  get marks(): string[] {
    const marks = this.snapshot.season.marks.get(this.position) ?? [];
    return marks.filter(({ isLost }) => !isLost).map(({ text }) => text);
  }
  @Field(() => Float, { nullable: true, description: 'Last weight in grams' })
  get massG(): number | null {
    return this.mass?.value ?? null;
  }
  @Field(() => String, { nullable: true, description: 'When it was weighed last' })
  get weighed(): string | null {
    return this.mass?.date ?? null;
  }
  @Field(() => Float, { nullable: true, description: 'Last shell length in mm' })
  get sclMm(): number | null {
    const length = this.snapshot.sclMm[this.position];
    return Number.isNaN(length) ? null : length;
  }
  @Field(() => String, { nullable: true, description: 'YYYY-MM-DD; null: never written down' })
  get lastSeen(): string | null {
    const day = this.snapshot.season.lastSeen[this.position];
    return day === NO_DAY ? null : dayText(day);
  }
  @Field(() => ID, { nullable: true, description: 'Its latest photograph; null: none' })
  get photoId(): string | null {
    return this.photo ?? null;
  }

  private get mass() {
    const sizes = this.snapshot.season.measurements.get(this.position);
    return sizes?.findLast(({ kind }) => kind === 'mass');
  }
}

@ObjectType({ description: 'A pen as a phone keeps it' })
export class RoundPen {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Boolean) isQuarantine: boolean;
}

@ObjectType({ description: 'A lot as a phone keeps it' })
export class RoundLot {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => Int) count: number;
  @Field(() => ID, { nullable: true }) penId: string | null;
}

@ObjectType({ description: 'A box of eggs, as a phone keeps it' })
export class RoundBox {
  @Field(() => String) label: string;
  @Field(() => Int) eggs: number;
  @Field(() => Float, { nullable: true, description: 'Last temperature written down' }) celsius:
    | number
    | null;
}

@ObjectType({ description: 'An animal that got out or is lent, and may come back' })
export class RoundAway {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true }) name: string | null;
  @Field(() => String, { description: 'escaped, lent out' }) words: string;
  @Field(() => String, { nullable: true, description: 'Since when' }) since: string | null;
  @Field(() => Boolean, { description: 'It escaped; else it is lent' }) isEscaped: boolean;
}

@ObjectType({ description: 'A clutch of the last two years, as a phone keeps it' })
export class RoundClutch {
  @Field(() => ID) id: string;
  @Field(() => String) code: string;
  @Field(() => String, { nullable: true, description: 'When it was laid' }) laid: string | null;
  @Field(() => [String], { description: 'Codes of the possible mothers' }) mothers: string[];
  @Field(() => Int, { nullable: true, description: 'Laid; null: not counted' }) eggs: number | null;
  @Field(() => Int, { nullable: true, description: 'Eggs of which nobody wrote what became' })
  open: number | null;
  @Field(() => [RoundBox]) boxes: RoundBox[];
}

@ObjectType({ description: 'What a phone keeps, so that a round needs no signal' })
export class RoundCopy {
  @Field(() => ID) programId: string;
  @Field(() => String) programName: string;
  @Field(() => Int, { description: 'Of the program when this was read' }) revision: number;
  @Field(() => String, { description: 'The day it holds for, YYYY-MM-DD' }) day: string;
  @Field(() => [RoundAnimal], { description: 'Those that are here, by code' })
  animals: RoundAnimal[];
  @Field(() => [RoundPen]) pens: RoundPen[];
  @Field(() => [RoundLot]) lots: RoundLot[];
  @Field(() => [RoundClutch]) clutches: RoundClutch[];
  @Field(() => [RoundAway]) away: RoundAway[];
  @Field(() => [String], { description: 'Names of the traits' }) traits: string[];
  @Field(() => [String], { description: 'Those that are here, the most frequent first' })
  species: string[];
  @Field(() => String, { description: 'The next free code by the pattern of the latest ones' })
  nextCode: string;
}
