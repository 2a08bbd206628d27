import { Fraction } from '@scutewright/basics';
import { type CaseVerdict, UnreadableShape } from './case-file.js';

/** Collects what an adapter compares: how many figures, and the first that differs. */
export class Comparison {
  private compared = 0;
  private difference: string | null = null;

  get verdict(): CaseVerdict {
    return { compared: this.compared, difference: this.difference };
  }

  /** Exact fractions: `{exact, value}`, a text such as `2/3` or a whole number. An absent `actual` stands for 0. */
  exact(what: string, expected: unknown, actual: Fraction | undefined): void {
    const wanted = fractionOf(what, expected);
    const found = actual ?? Fraction.zero;
    this.note(wanted.equals(found), what, wanted, found);
  }

  /** Chances by name: every name on either side; a name that one side lacks is 0 there. */
  chances(what: string, expected: unknown, actual: Readonly<Record<string, Fraction>>): void {
    const wanted = record(what, expected);
    for (const name of new Set([...Object.keys(wanted), ...Object.keys(actual)])) {
      this.exact(`${what}, ${name}`, wanted[name] ?? '0', actual[name]);
    }
  }

  /** Plain decimals within an absolute tolerance; also `{exact, value}` read as a number. */
  near(what: string, expected: unknown, actual: number, tolerance: number): void {
    const wanted = typeof expected === 'number' ? expected : fractionOf(what, expected).toNumber();
    this.note(Math.abs(wanted - actual) <= tolerance, what, wanted, actual);
  }

  /** Equal as JSON: texts, booleans, null, whole numbers, lists of these. */
  same(what: string, expected: unknown, actual: unknown): void {
    const [wanted, found] = [JSON.stringify(expected), JSON.stringify(actual)];
    this.note(wanted === found, what, wanted, found);
  }

  private note(agrees: boolean, what: string, expected: unknown, found: unknown): void {
    this.compared++;
    if (!agrees) this.difference ??= `${what}: expected ${expected}, found ${found}`;
  }
}

/** An exact figure: `{exact, value}`, a text such as `2/3`, or a number. */
export function fractionOf(what: string, value: unknown): Fraction {
  if (typeof value === 'number' || typeof value === 'string') return Fraction.parse(value);
  const { exact, ...rest } = record(what, value);
  if (typeof exact !== 'string') throw new UnreadableShape(`${what} is no exact figure`);
  const fraction = Fraction.parse(exact);
  const others = Object.keys(rest).filter((key) => key !== 'value');
  if (others.length > 0) throw new UnreadableShape(`${what} holds the unknown key '${others[0]}'`);
  if ('value' in rest) {
    const off = Math.abs(Number(rest.value) - fraction.toNumber());
    if (!(off <= 1e-9)) throw new UnreadableShape(`${what}: 'exact' and 'value' differ`);
  }
  return fraction;
}

/** A JSON object, or UnreadableShape. */
export function record(what: string, value: unknown): Readonly<Record<string, unknown>> {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
    return value as Readonly<Record<string, unknown>>;
  }
  throw new UnreadableShape(`${what} is not an object`);
}

/** A JSON list, or UnreadableShape. */
export function list(what: string, value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw new UnreadableShape(`${what} is not a list`);
}

export function text(what: string, value: unknown): string {
  if (typeof value === 'string') return value;
  throw new UnreadableShape(`${what} is not a text`);
}

export function number(what: string, value: unknown): number {
  if (typeof value === 'number') return value;
  throw new UnreadableShape(`${what} is not a number`);
}

/** Refuses keys that the adapter does not read. */
export function onlyKeys(what: string, value: object, keys: readonly string[]): void {
  const unknown = Object.keys(value).find((key) => !keys.includes(key));
  if (unknown) throw new UnreadableShape(`${what} holds the unknown key '${unknown}'`);
}

/** Absolute tolerance under one of the names, or the fallback. */
export function toleranceOf(tolerance: unknown, name: string, fallback: number): number {
  const value =
    typeof tolerance === 'object' && tolerance ? record('tolerance', tolerance)[name] : tolerance;
  return typeof value === 'number' ? value : fallback;
}
