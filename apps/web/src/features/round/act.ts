/** What was typed or chosen in a form of the round, by the field's name. */
export type Filled = Readonly<Record<string, string>>;

export interface Option {
  readonly value: string;
  readonly words: string;
}

interface Named {
  readonly name: string;
  readonly label: string;
  /** The last value is offered again on this device, under this name. */
  readonly keep?: string;
}
export type RoundField =
  | (Named & { readonly kind: 'number'; readonly unit?: string })
  | (Named & { readonly kind: 'text' })
  /** A text in one line: a name, a mark, a code. */
  | (Named & { readonly kind: 'line' })
  | (Named & { readonly kind: 'tick' })
  /** A photo, taken or chosen; the value is a `data:` address. */
  | (Named & { readonly kind: 'picture' })
  /** Codes of new animals; the next free ones are offered, as many as the field `count` says. */
  | (Named & { readonly kind: 'codes'; readonly count: string })
  /** Several may be ticked; the value is their values, parted by line ends. */
  | (Named & { readonly kind: 'several'; readonly options: readonly Option[] })
  /** One may be chosen, or none. */
  | (Named & { readonly kind: 'choice'; readonly options: readonly Option[] })
  /** One tap chooses and writes: the last field of its form. */
  | (Named & { readonly kind: 'one'; readonly options: readonly Option[] });

export interface Written {
  readonly words: string;
  /** One kind of entry with what it holds. */
  readonly says: Record<string, unknown>;
  /** A photo that goes with it, as a `data:` address. */
  readonly picture?: string;
}

/** One thing that can be written down on a round, with its form. */
export interface Act {
  readonly key: string;
  readonly title: string;
  readonly fields: readonly RoundField[];
  /** Stands with the form, where the decision is made. */
  readonly caution?: string;
  /** The animal is not in the yard any more once it is written. */
  readonly isEnd?: boolean;
  /** What is written, or a sentence that says what is missing. */
  readonly make: (filled: Filled) => Written | string;
}

/** A number as typed, with either decimal sign; null where it is none. */
export const number = (text = ''): number | null => {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() === '' || !Number.isFinite(value) ? null : value;
};

/** A whole number from 0; null where it is none. */
export const count = (text = ''): number | null => {
  const value = number(text);
  return value !== null && Number.isInteger(value) && value >= 0 ? value : null;
};

export const chosen = (text = ''): string[] => text.split('\n').filter(Boolean);

/** Codes typed with commas or blanks between them. */
export const codes = (text = ''): string[] => text.split(/[\s,;]+/).filter(Boolean);

export const wordsOf = (options: readonly Option[], value = ''): string =>
  options.find((option) => option.value === value)?.words ?? value;

export const named = ({ code, name }: { code: string; name: string | null }): string =>
  name && name !== code ? `${code} ${name}` : code;
