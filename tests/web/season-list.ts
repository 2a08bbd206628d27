/** Where a season is written down: the pages of the desk, or the round on a phone. */
export interface Notebook {
  moved(on: string, animals: readonly string[], from: string, to: string): Promise<void>;
  counted(on: string, pen: string, heads: number): Promise<void>;
  seenToday(animal: string): Promise<void>;
  weighed(on: string, animal: string, grams: number): Promise<void>;
  measured(on: string, animal: string, mm: number): Promise<void>;
  mated(on: string, male: string, female: string): Promise<void>;
  stoodOpen(on: string, pen: string, other: string): Promise<void>;
  fought(on: string, animal: string, other: string): Promise<void>;
  ill(on: string, animal: string, what: string): Promise<void>;
  noted(on: string, animal: string, text: string): Promise<void>;
  sexed(on: string, animal: string, sex: 'Female' | 'Male', by: string): Promise<void>;
  chipped(on: string, animal: string, chip: string): Promise<void>;
  colour(on: string, animal: string, traits: readonly string[]): Promise<void>;
  escaped(on: string, animal: string): Promise<void>;
  cameBack(on: string, animal: string, knownBy: string, pen: string): Promise<void>;
  arrived(on: string, newcomer: Newcomer): Promise<void>;
  sold(on: string, animal: string, to: string): Promise<void>;
  died(on: string, animal: string): Promise<void>;
  laid(on: string, dam: string, pen: string, eggs: EggsLaid): Promise<void>;
  eggsFound(on: string, pen: string, dams: readonly string[], eggs: number): Promise<void>;
  set(on: string, clutch: Clutch, eggs: number, celsius: number): Promise<void>;
  warmth(on: string, clutch: Clutch, celsius: number): Promise<void>;
  failed(on: string, clutch: Clutch, eggs: Failed): Promise<void>;
  hatched(on: string, clutch: Clutch, count: number, codes: string, pen: string): Promise<void>;
  found(on: string, codes: string, clutches: readonly string[], pen: string): Promise<void>;
  colourOfClutch(on: string, clutch: Clutch, looked: number, pale: number): Promise<void>;
  lotCounted(on: string, lot: Lot, count: number): Promise<void>;
  lotDied(on: string, lot: Lot, count: number): Promise<void>;
  lotPromoted(on: string, lot: Lot, codes: string): Promise<void>;
  lotMoved(on: string, lot: Lot, to: string): Promise<void>;
  lotMerged(on: string, lot: Lot, into: string): Promise<void>;
  lotSold(on: string, lot: Lot, count: number, to: string): Promise<void>;
  /** A weight is written of the wrong animal and taken back. */
  slip(on: string, animal: string, grams: number): Promise<void>;
}

/** By its code; without signal it has none yet and goes by its mothers. */
export interface Clutch {
  readonly code: string;
  readonly dams: string;
}
/** By its code; on a round it is found where it is. */
export interface Lot {
  readonly code: string;
  readonly pen: string;
}
export interface EggsLaid {
  readonly eggs: number;
  readonly broken?: number;
  readonly notSet?: number;
}
export interface Failed {
  readonly infertile?: number;
  readonly diedEarly?: number;
  readonly diedLate?: number;
  /** Of the dead in the shell. */
  readonly pale?: number;
}
export interface Newcomer {
  readonly code: string;
  readonly hatched: string;
  readonly from: string;
  readonly pen: string;
}

/** What both programs begin from. Invented, as all animals and people of this season are. */
export const START = `code,species,sex,hatched,traits,pen,scl_mm,mass_g
D1,Testudo hermanni,f,1995,none,Orchard,171,1650
D2,Testudo hermanni,f,1996,none,Orchard,168,1580
D3,Testudo hermanni,f,1998,none,Terrace,165,1490
D4,Testudo hermanni,f,1999,none,Terrace,163,1450
S1,Testudo hermanni,m,1994,none,Orchard,150,900
S2,Testudo hermanni,m,1997,pale,Terrace,148,880
S3,Testudo hermanni,m,2001,none,Orchard,145,840
J1,Testudo hermanni,,2020-08,,Nursery,62,71
J2,Testudo hermanni,,2020-08,,Nursery,60,68
`;

const FIRST = { code: 'C2025-01', dams: 'D1' };
const SECOND = { code: 'C2025-02', dams: 'D3 or D4' };
const THIRD = { code: 'C2025-03', dams: 'D2' };

/** One invented season, in the order in which it was written down. */
export const SEASON: readonly ((book: Notebook) => Promise<void>)[] = [
  (book) => book.counted('2025-03-20', 'Orchard', 4),
  (book) => book.weighed('2025-03-20', 'D1', 1710),
  (book) => book.weighed('2025-03-20', 'D2', 1602),
  (book) => book.weighed('2025-03-20', 'D3', 1515),
  (book) => book.measured('2025-03-20', 'S1', 151),
  (book) => book.slip('2025-03-20', 'D4', 1515),
  (book) => book.mated('2025-04-12', 'S1', 'D1'),
  (book) => book.mated('2025-04-15', 'S2', 'D3'),
  (book) => book.fought('2025-04-18', 'S3', 'S1'),
  (book) => book.moved('2025-04-18', ['S3'], 'Orchard', 'Paddock'),
  (book) => book.stoodOpen('2025-04-20', 'Orchard', 'Terrace'),
  (book) => book.escaped('2025-04-28', 'S2'),
  (book) => book.cameBack('2025-05-01', 'S2', 'the nick in its third scute', 'Apart'),
  (book) => book.laid('2025-05-10', 'D1', 'Orchard', { eggs: 8, broken: 1 }),
  (book) => book.set('2025-05-10', FIRST, 7, 31.5),
  (book) => book.eggsFound('2025-05-14', 'Terrace', ['D3', 'D4'], 6),
  (book) => book.set('2025-05-14', SECOND, 6, 29.5),
  (book) => book.moved('2025-05-30', ['S2'], 'Apart', 'Terrace'),
  (book) => book.warmth('2025-06-01', FIRST, 32),
  (book) => book.laid('2025-06-02', 'D2', 'Orchard', { eggs: 5, notSet: 2 }),
  (book) => book.set('2025-06-02', THIRD, 3, 31),
  (book) => book.failed('2025-06-10', FIRST, { infertile: 1 }),
  (book) => book.failed('2025-06-14', SECOND, { infertile: 1, diedEarly: 1 }),
  (book) => book.chipped('2025-06-15', 'J1', '985112345678903'),
  (book) => book.sexed('2025-06-15', 'J1', 'Female', 'plastron'),
  (book) => book.colour('2025-06-15', 'J1', []),
  (book) => book.colour('2025-06-15', 'J2', ['pale']),
  (book) => book.ill('2025-06-18', 'D4', 'left eye shut, does not eat'),
  (book) => book.noted('2025-06-18', 'D4', 'To the veterinarian tomorrow.'),
  (book) => book.died('2025-06-20', 'D4'),
  (book) =>
    book.arrived('2025-06-22', {
      code: 'R1',
      hatched: '2015',
      from: 'A breeder of this story',
      pen: 'Apart',
    }),
  (book) => book.weighed('2025-06-22', 'R1', 790),
  (book) => book.hatched('2025-07-20', FIRST, 4, 'Y1, Y2', 'Nursery'),
  (book) => book.failed('2025-07-24', FIRST, { diedLate: 2, pale: 1 }),
  (book) => book.hatched('2025-07-25', SECOND, 4, '', 'Nursery'),
  (book) => book.weighed('2025-07-26', 'Y1', 14),
  (book) => book.colourOfClutch('2025-07-26', SECOND, 4, 1),
  (book) => book.lotDied('2025-08-02', { code: 'C2025-02', pen: 'Nursery' }, 1),
  (book) => book.lotPromoted('2025-08-05', { code: 'C2025-02', pen: 'Nursery' }, 'Y3'),
  (book) => book.hatched('2025-08-12', THIRD, 3, '', 'Nursery'),
  (book) => book.lotCounted('2025-08-20', { code: 'C2025-03', pen: 'Nursery' }, 3),
  (book) =>
    book.lotSold('2025-09-01', { code: 'C2025-03', pen: 'Nursery' }, 2, 'A buyer of this story'),
  (book) => book.lotMerged('2025-09-02', { code: 'C2025-03', pen: 'Nursery' }, 'C2025-02'),
  (book) => book.lotMoved('2025-09-02', { code: 'C2025-02', pen: 'Nursery' }, 'Paddock'),
  (book) => book.found('2025-09-05', 'X1', ['C2025-01', 'C2025-02'], 'Orchard'),
  (book) => book.sold('2025-09-10', 'Y2', 'A buyer of this story'),
  (book) => book.moved('2025-10-01', ['R1'], 'Apart', 'Paddock'),
  (book) => book.moved('2025-10-15', ['D1', 'D2', 'S1'], 'Orchard', 'Nursery'),
  (book) => book.counted('2025-10-15', 'Orchard', 0),
  (book) => book.seenToday('S1'),
];
