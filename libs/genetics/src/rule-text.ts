import { FaultsError } from '@scutewright/basics';
import type { RuleInput } from './rule.js';

/**
 * The rule as a line that people can read and type: `pl = p/p and age >= 730`, `(pl = p/p or hn = h/h) and not sex = f`,
 * `sm = N/S | S/S`. Names that are words of the language or hold other signs stand in double quotes. `readRuleText` reads it back.
 */
export function writeRuleText(rule: RuleInput): string {
  if ('locus' in rule) {
    if (rule.genotypes.length === 0) return 'never';
    return `${quote(rule.locus)} = ${rule.genotypes.map(quote).join(' | ')}`;
  }
  if ('all' in rule) return join(rule.all, 'and', 'always');
  if ('any' in rule) return join(rule.any, 'or', 'never');
  if ('not' in rule) return `not ${part(rule.not)}`;
  if ('sex' in rule) return `sex = ${rule.sex}`;
  return `age >= ${rule.fromDays}`;
}

function join(parts: readonly RuleInput[], word: string, empty: string): string {
  if (parts.length === 0) return empty;
  if (parts.length === 1) return writeRuleText(parts[0]);
  return parts.map(part).join(` ${word} `);
}

function part(rule: RuleInput): string {
  const list = 'all' in rule ? rule.all : 'any' in rule ? rule.any : [];
  if (list.length === 1) return part(list[0]);
  return list.length > 1 ? `(${writeRuleText(rule)})` : writeRuleText(rule);
}

const WORDS = new Set(['and', 'or', 'not', 'sex', 'age', 'always', 'never']);
const PLAIN_NAME = /^[^\s()|=,"<>]+$/;

function quote(name: string): string {
  return PLAIN_NAME.test(name) && !WORDS.has(name.toLowerCase())
    ? name
    : `"${name.replaceAll(/["\\]/g, '\\$&')}"`;
}

/** Deeper brackets are refused: nobody reads them. */
const DEEPEST = 40;

/**
 * Reads a line of `writeRuleText`; `and` binds closer than `or`. Throws a FaultsError (`UNREADABLE_RULE`) that names the place.
 * Whether its loci and genotypes exist is for `readTraits` to say.
 */
export function readRuleText(text: string): RuleInput {
  return new RuleReader(text).read();
}

interface Token {
  /** Null at the end of the line. */
  readonly text: string | null;
  readonly isQuoted: boolean;
  readonly at: number;
}

class RuleReader {
  private readonly tokens: Token[] = [];
  private next = 0;

  constructor(text: string) {
    const sign = /\s*(?:("(?:[^"\\]|\\.)*")|(>=|[()|=])|([^\s()|=,"<>]+))/y;
    let at = 0;
    while (text.slice(at).trim() !== '') {
      sign.lastIndex = at;
      const found = sign.exec(text);
      if (!found) {
        const begin = at + text.slice(at).search(/\S/);
        throw this.fault(begin, `'${text[begin]}' has no meaning here`);
      }
      at = sign.lastIndex;
      const [, quoted] = found;
      this.tokens.push({
        text: quoted ? quoted.slice(1, -1).replaceAll(/\\(.)/g, '$1') : found[2] || found[3],
        isQuoted: quoted !== undefined,
        at: at - found[0].trimStart().length,
      });
    }
    this.tokens.push({ text: null, isQuoted: false, at: text.length });
  }

  read(): RuleInput {
    const rule = this.either(0);
    if (this.peek().text !== null) throw this.unexpected("'and', 'or' or the end of the rule");
    return rule;
  }

  private either(depth: number): RuleInput {
    const parts = [this.both(depth)];
    while (this.take('or')) parts.push(this.both(depth));
    return parts.length === 1 ? parts[0] : { any: parts };
  }

  private both(depth: number): RuleInput {
    const parts = [this.one(depth)];
    while (this.take('and')) parts.push(this.one(depth));
    return parts.length === 1 ? parts[0] : { all: parts };
  }

  private one(depth: number): RuleInput {
    if (depth > DEEPEST) throw this.fault(this.peek().at, 'The brackets lie too deep');
    if (this.take('not')) return { not: this.one(depth + 1) };
    if (this.take('(')) {
      const inner = this.either(depth + 1);
      if (!this.take(')')) throw this.unexpected("')'");
      return inner;
    }
    if (this.take('always')) return { all: [] };
    if (this.take('never')) return { any: [] };
    if (this.take('age')) return this.age();
    if (this.take('sex')) return this.sex();
    return this.genotypes();
  }

  private age(): RuleInput {
    if (!this.take('>=')) throw this.unexpected("'>=' and an age in days");
    const days = Number(this.name('an age in days, such as 730'));
    if (!(days >= 0)) throw this.fault(this.tokens[this.next - 1].at, 'This is not an age in days');
    return { fromDays: days };
  }

  private sex(): RuleInput {
    if (!this.take('=')) throw this.unexpected("'= m' or '= f'");
    const sex = this.name("'m' or 'f'").toLowerCase();
    if (sex !== 'm' && sex !== 'f') {
      throw this.fault(this.tokens[this.next - 1].at, "A sex is written 'm' or 'f'");
    }
    return { sex };
  }

  private genotypes(): RuleInput {
    const locus = this.name('a gene, such as pl = p/p');
    if (!this.take('=')) throw this.unexpected(`'=' and a genotype of ${locus}`);
    const genotypes = [this.name('a genotype, such as p/p')];
    while (this.take('|')) genotypes.push(this.name('one more genotype'));
    return { locus, genotypes };
  }

  private peek(): Token {
    return this.tokens[this.next];
  }

  private take(word: string): boolean {
    const { text, isQuoted } = this.peek();
    if (isQuoted || text?.toLowerCase() !== word) return false;
    this.next++;
    return true;
  }

  private name(wanted: string): string {
    const { text, isQuoted } = this.peek();
    if (text === null || (!isQuoted && /^(?:[()|=]|>=)$/.test(text))) throw this.unexpected(wanted);
    this.next++;
    return text;
  }

  private unexpected(wanted: string): FaultsError {
    const { text, at } = this.peek();
    const stands = text === null ? 'The rule ends' : `'${text.slice(0, 40)}' stands there`;
    return this.fault(at, `${stands} where ${wanted} should`);
  }

  private fault(at: number, what: string): FaultsError {
    return new FaultsError([
      {
        code: 'UNREADABLE_RULE',
        message: `The rule cannot be read at character ${at + 1}: ${what}.`,
        remedy:
          "Write it like: pl = p/p and age >= 730. Join parts by 'and', 'or', 'not' and brackets.",
        ids: [],
      },
    ]);
  }
}
