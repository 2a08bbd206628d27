import { type Fault, Fraction } from '@scutewright/basics';

/** A probability as a caller writes it: a number or a text such as `2/3`. */
export type Probability = string | number;

/** A fraction in [0, 1] read exactly, or null where the text is no such number. */
export function readProbability(text: string | number): Fraction | null {
  try {
    const value = Fraction.parse(text);
    return value.compare(Fraction.zero) >= 0 && value.compare(Fraction.one) <= 0 ? value : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Within 1e-9 of 1: probabilities that came as rounded decimals may miss it by their last digits. */
export function isNearlyOne(sum: Fraction): boolean {
  return Math.abs(sum.minus(Fraction.one).toNumber()) < 1e-9;
}

/** Reads a probability; on a fault adds it and answers 0. */
export function probability(text: Probability, what: string, faults: Fault[]): Fraction {
  const value = readProbability(text);
  if (value) return value;
  faults.push({
    code: 'BAD_PROBABILITY',
    message: `${what} is '${text}', which is not between 0 and 1.`,
    remedy: 'Write a number such as 0.25 or 1/4.',
    ids: [],
  });
  return Fraction.zero;
}
