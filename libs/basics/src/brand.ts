declare const brand: unique symbol;
/** A number or string that must not be mixed up with another of the same shape. */
export type Branded<Value, Name extends string> = Value & {
  readonly [brand]: Name;
};

export type Millimetres = Branded<number, 'mm'>;
export type Grams = Branded<number, 'g'>;
/** Row position in a snapshot or pedigree, 0..n-1; -1 stands for 'not recorded'. */
export type AnimalIndex = Branded<number, 'animal index'>;
