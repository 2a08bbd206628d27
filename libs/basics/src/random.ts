/** A source of uniform random numbers. Passed in wherever chance is needed. */
export interface Random {
  /** Uniform in [0, 1), 53 bits. */
  next(): number;
  /** Uniform whole number in [0, bound), bound at most 2^32. */
  below(bound: number): number;
  /** 32 uniform bits, unsigned. */
  bits(): number;
}

/**
 * xoshiro128** seeded through splitmix32: the same seed gives the same sequence on
 * every machine. Period 2^128 - 1. Not for secrets.
 * Source: Blackman & Vigna 2021, ACM Trans. Math. Softw. 47:36, doi 10.1145/3460772.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const spread = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
  let a = spread();
  let b = spread();
  let c = spread();
  let d = spread();
  const bits = (): number => {
    const product = Math.imul(b, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = (d << 11) | (d >>> 21);
    return result;
  };
  return {
    bits,
    next: () => (bits() * 2 ** 21 + (bits() >>> 11)) * 2 ** -53,
    below: (bound) => Math.floor((bits() / 2 ** 32) * bound),
  };
}
