type Maker = (...from: never[]) => unknown;

interface Made {
  readonly from: readonly unknown[];
  readonly part: unknown;
}

/**
 * The parts of a snapshot, made one after another. A part that the same function made of the same things (the very same
 * objects) for the snapshot before is taken over from there, once. So a maker reads nothing but what it is given.
 */
export class KeptParts {
  private readonly made = new Map<Maker, Made>();
  private readonly earlier: Map<Maker, Made>;

  constructor(before?: KeptParts) {
    this.earlier = before?.made ?? new Map();
  }

  of<From extends readonly unknown[], Part>(make: (...from: From) => Part, ...from: From): Part {
    const known = this.earlier.get(make as Maker);
    this.earlier.delete(make as Maker);
    const isSame = known?.from.every((each, i) => each === from[i]);
    const part = known && isSame ? (known.part as Part) : make(...from);
    this.made.set(make as Maker, { from, part });
    return part;
  }
}
