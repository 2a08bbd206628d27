import { Field, Float, ID, Int, ObjectType, registerEnumType } from '@nestjs/graphql';
import { Animal, Clutch, ParentFinding } from '../animals/animal.types.js';
import { Program } from '../programs/program.types.js';

export const YardState = { CLOSED: 'CLOSED', OPEN: 'OPEN', UNKNOWN: 'UNKNOWN' } as const;

export const ClutchStage = { LAID: 'LAID', INCUBATING: 'INCUBATING', DONE: 'DONE' } as const;
export type ClutchStage = keyof typeof ClutchStage;
registerEnumType(ClutchStage, {
  name: 'ClutchStage',
  description: 'How far a clutch has come',
  valuesMap: {
    LAID: { description: 'No eggs are written down as set' },
    INCUBATING: { description: 'Some eggs are still to be accounted for' },
    DONE: { description: 'Nothing more is expected of it' },
  },
});

@ObjectType({ description: 'When young may hatch, by published incubation times' })
export class HatchWindow {
  @Field(() => String, { description: 'First day, YYYY-MM-DD' }) from: string;
  @Field(() => String, { description: 'Last day, YYYY-MM-DD' }) to: string;
  @Field(() => String, { description: 'What it rests on' }) source: string;
}

@ObjectType({ description: 'Eggs that were set together' })
export class EggBatch {
  @Field(() => ID) id: string;
  @Field(() => String) label: string;
  @Field(() => Int) eggs: number;
  @Field(() => String, { nullable: true, description: 'When they were set' }) setOn: string | null;
  @Field(() => [Float], { description: 'Degrees Celsius, in the order in which they were written' })
  celsius: number[];
  @Field(() => HatchWindow, {
    nullable: true,
    description: 'Null where nothing is published for it',
  })
  hatchWindow: HatchWindow | null;
  @Field(() => String, {
    nullable: true,
    description: "Share of females by temperature, in words; never one animal's sex",
  })
  sexOutlook: string | null;
  @Field(() => String, { nullable: true, description: 'A temperature known to harm' }) danger:
    | string
    | null;
}

@ObjectType({ description: 'Eggs of a clutch that did not hatch' })
export class EggLosses {
  @Field(() => Int) infertile: number;
  @Field(() => Int) diedEarly: number;
  @Field(() => Int) diedLate: number;
  @Field(() => Int) lost: number;
}

@ObjectType({ description: 'A possible father by who was where, with what was put in' })
export class DerivedFather {
  @Field(() => Animal) animal: Animal;
  @Field(() => Float, { description: 'Probability before any colour is looked at' })
  probability: number;
  @Field(() => Int, { description: 'Days on which he may have been with her' })
  possibleDays: number;
  @Field(() => Int, { description: 'Days on which he surely was' }) certainDays: number;
  @Field(() => Int) matingsSeen: number;
  @Field(() => String, { description: 'The last day he may have been, YYYY-MM-DD' })
  lastDay: string;
}

@ObjectType({ description: 'How the possible fathers of a clutch follow from who was where' })
export class DerivedFathers {
  @Field(() => String) sentence: string;
  @Field(() => [DerivedFather], { description: 'Most probable first' }) fathers: DerivedFather[];
  @Field(() => Float, { description: 'The share of a male nobody recorded' }) unrecorded: number;
  @Field(() => [String], { description: 'The rule and its figures' }) assumptions: string[];
}

@ObjectType({ description: 'A clutch with its eggs and what became of them' })
export class ClutchSheet {
  @Field(() => Clutch) clutch: Clutch;
  @Field(() => String, { nullable: true, description: 'When it was laid, as it is known' }) laid:
    | string
    | null;
  @Field(() => ClutchStage) stage: ClutchStage;
  @Field(() => String) sentence: string;
  @Field(() => Int, { nullable: true, description: 'Null where not counted' }) eggs: number | null;
  @Field(() => Int) broken: number;
  @Field(() => Int) notSet: number;
  @Field(() => Int, { description: 'Young that hatched, named or in lots' }) hatched: number;
  @Field(() => String, {
    nullable: true,
    description: 'First day any of its young may have hatched, YYYY-MM-DD; null where none did',
  })
  hatchedFrom: string | null;
  @Field(() => String, { nullable: true, description: 'Last such day' }) hatchedTo: string | null;
  @Field(() => Int, { nullable: true, description: 'Eggs of which nothing is written yet' }) open:
    | number
    | null;
  @Field(() => EggLosses) losses: EggLosses;
  @Field(() => [EggBatch]) batches: EggBatch[];
  @Field(() => String, { nullable: true, description: 'Where it was found' }) pen: string | null;
  @Field(() => String, { nullable: true }) species: string | null;
  @Field(() => ParentFinding) dam: ParentFinding;
  @Field(() => ParentFinding) sire: ParentFinding;
  @Field(() => DerivedFathers, {
    nullable: true,
    description: 'Null where fathers were written down by hand or are not known',
  })
  derived: DerivedFathers | null;
  @Field(() => [String], { description: 'Codes of the lots its young are in' }) lots: string[];
}

@ObjectType({ description: 'A clutch after an act' })
export class ClutchPayload {
  @Field(() => ClutchSheet) clutch: ClutchSheet;
  @Field(() => ID, { description: 'Give it to undo' }) commandId: string;
  @Field(() => Program) program: Program;
}

@ObjectType({ description: 'What the program assumes of its season' })
export class SeasonSettings {
  @Field(() => Float, { description: 'Years that a female may store sperm' }) storageYears: number;
  @Field(() => String, { description: 'CLOSED, OPEN or UNKNOWN' }) yard: string;
  @Field(() => String, { nullable: true }) yardSince: string | null;
  @Field(() => Int, { description: 'Month, 1 to 12' }) seasonStartMonth: number;
  @Field(() => Float, { description: 'Months after hatching at which colour is looked at again' })
  colourCheckMonths: number;
  @Field(() => Float, { description: 'Years from which an animal may be mature' })
  matureYearsFrom: number;
  @Field(() => Float, { description: 'Years from which it surely is' }) matureYearsTo: number;
  @Field(() => Float, {
    nullable: true,
    description: 'Least share of a male nobody recorded; null: by the yard',
  })
  unrecordedShare: number | null;
  @Field(() => Float, { description: 'Years after which a day together counts half' })
  recencyHalfYears: number;
}

@ObjectType({ description: 'One length or weight' })
export class Measurement {
  @Field(() => String, { description: 'scl, plastron, curved (mm) or mass (g)' }) kind: string;
  @Field(() => Float) value: number;
  @Field(() => String, { nullable: true }) date: string | null;
  @Field(() => String, { nullable: true }) method: string | null;
}

@ObjectType({ description: 'A size to come, with the interval that should hold it 8 times in 10' })
export class SizeForecast {
  @Field(() => String, { description: 'YYYY-MM-DD' }) on: string;
  @Field(() => Float, { description: 'mm' }) middle: number;
  @Field(() => Float) low: number;
  @Field(() => Float) high: number;
}

@ObjectType({ description: 'How an animal has grown, against its own past and its clutch mates' })
export class Growth {
  @Field(() => String) sentence: string;
  @Field(() => [Measurement], { description: 'Oldest first' }) measurements: Measurement[];
  @Field(() => [SizeForecast], { description: 'Empty where too little is measured' })
  forecast: SizeForecast[];
  @Field(() => String, { nullable: true, description: 'Where it stands among its clutch mates' })
  amongMates: string | null;
  @Field(() => [String]) assumptions: string[];
}
