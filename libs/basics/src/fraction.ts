/**
 * An exact rational number in lowest terms. The denominator is positive. Big
 * integers throughout, so nothing overflows or rounds.
 */
export class Fraction {
  static readonly zero = new Fraction(0n, 1n);
  static readonly one = new Fraction(1n, 1n);
  static readonly half = new Fraction(1n, 2n);

  private constructor(
    readonly numerator: bigint,
    readonly denominator: bigint,
  ) {}

  /** `numerator / denominator`, reduced. Throws RangeError on a zero denominator. */
  static of(numerator: bigint | number, denominator: bigint | number = 1n): Fraction {
    let n = BigInt(numerator);
    let d = BigInt(denominator);
    if (d === 0n) throw new RangeError('A fraction cannot have the denominator 0');
    if (d < 0n) {
      n = -n;
      d = -d;
    }
    const g = greatestCommonDivisor(n < 0n ? -n : n, d);
    return new Fraction(n / g, d / g);
  }

  /**
   * Reads `2/3`, `0.01`, `1e-3`, `-4` exactly, also a finite number by its shortest
   * decimal form. Throws RangeError on anything else.
   */
  static parse(text: string | number): Fraction {
    const trimmed = String(text).trim();
    const ratio = /^([+-]?\d+)\s*\/\s*(\d+)$/.exec(trimmed);
    if (ratio) return Fraction.of(BigInt(ratio[1]), BigInt(ratio[2]));
    const decimal = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,4}))?$/.exec(trimmed);
    if (!decimal || !(decimal[2] || decimal[3])) {
      throw new RangeError(`'${trimmed}' is not a number or a fraction such as 2/3 or 0.01`);
    }
    const digits = BigInt((decimal[2] || '') + (decimal[3] ?? ''));
    const exponent = Number(decimal[4] ?? 0) - (decimal[3]?.length ?? 0);
    const value =
      exponent >= 0
        ? Fraction.of(digits * 10n ** BigInt(exponent))
        : Fraction.of(digits, 10n ** BigInt(-exponent));
    return decimal[1] === '-' ? value.negate() : value;
  }

  /** By the smallest divisors that can be common (Knuth, The Art of Computer Programming 2, 4.5.1): sums of posteriors have long denominators. */
  plus(other: Fraction): Fraction {
    const { numerator: a, denominator: b } = this;
    const { numerator: c, denominator: d } = other;
    const shared = greatestCommonDivisor(b, d);
    if (shared === 1n) return new Fraction(a * d + c * b, b * d);
    const sum = a * (d / shared) + c * (b / shared);
    const rest = greatestCommonDivisor(sum < 0n ? -sum : sum, shared);
    return new Fraction(sum / rest, (b / shared) * (d / rest));
  }

  minus(other: Fraction): Fraction {
    return this.plus(other.negate());
  }

  times(other: Fraction): Fraction {
    const left = Fraction.of(this.numerator, other.denominator);
    const right = Fraction.of(other.numerator, this.denominator);
    return new Fraction(left.numerator * right.numerator, left.denominator * right.denominator);
  }

  /** Throws RangeError when `other` is 0. */
  over(other: Fraction): Fraction {
    return Fraction.of(this.numerator * other.denominator, this.denominator * other.numerator);
  }

  negate(): Fraction {
    return new Fraction(-this.numerator, this.denominator);
  }

  /** 1 - this: the chance that it does not happen. */
  complement(): Fraction {
    return Fraction.one.minus(this);
  }

  /** `exponent` is a whole number of at least 0. */
  power(exponent: number): Fraction {
    const n = BigInt(exponent);
    return new Fraction(this.numerator ** n, this.denominator ** n);
  }

  /** Negative, 0 or positive as this is less than, equal to or greater than `other`. */
  compare(other: Fraction): number {
    const left = this.numerator * other.denominator;
    const right = other.numerator * this.denominator;
    return left < right ? -1 : left > right ? 1 : 0;
  }

  equals(other: Fraction): boolean {
    return this.numerator === other.numerator && this.denominator === other.denominator;
  }

  get isZero(): boolean {
    return this.numerator === 0n;
  }

  /** Nearest double, also where numerator and denominator alone would overflow one. */
  toNumber(): number {
    const n = Number(this.numerator);
    const d = Number(this.denominator);
    if (Number.isFinite(n) && Number.isFinite(d)) return n / d;
    // Keep about 64 significant bits of the quotient; the shift is undone in floating
    // point, in two halves so that it does not underflow before the product does.
    const shift = 64 - bitLength(this.numerator) + bitLength(this.denominator);
    const quotient =
      shift >= 0
        ? (this.numerator << BigInt(shift)) / this.denominator
        : this.numerator / (this.denominator << BigInt(-shift));
    const half = Math.trunc(shift / 2);
    return Number(quotient) * 2 ** -half * 2 ** -(shift - half);
  }

  /** `2/3`; a whole number without denominator. */
  toString(): string {
    return this.denominator === 1n
      ? String(this.numerator)
      : `${this.numerator}/${this.denominator}`;
  }
}

/** Euclid's; in plain numbers, which are many times faster, once they hold both. */
function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  while (b > Number.MAX_SAFE_INTEGER) [a, b] = [b, a % b];
  if (b === 0n) return a;
  let [m, n] = [Number(b), Number(a % b)];
  while (n !== 0) [m, n] = [n, m % n];
  return BigInt(m);
}

function bitLength(n: bigint): number {
  return (n < 0n ? -n : n).toString(2).length;
}
