/** A possible parent as the form holds it. */
export interface ParentRow {
  readonly animalId: string;
  readonly code: string;
  readonly name: string | null;
  /** Chances in 100 as typed; empty: an equal part of what the others leave. */
  readonly inHundred: string;
}

export interface ParentShares {
  /** Probability of each row, in their order; empty when there is a fault. */
  readonly shares: readonly number[];
  /** What is left for a parent nobody recorded. */
  readonly unrecorded: number;
  /** Row at fault (null: all together) and why, in words. */
  readonly fault?: { readonly row: number | null; readonly message: string };
}

/**
 * The probabilities of the rows. Those left empty share equally what the typed ones leave, so one
 * row without a figure is certain and two are 50 in 100 each. Typed figures may sum to less
 * than 100; the rest is a parent nobody recorded. No rows: wholly unrecorded.
 */
export function parentShares(rows: readonly ParentRow[]): ParentShares {
  let typed = 0;
  const figures: (number | null)[] = [];
  for (const [row, { inHundred, code }] of rows.entries()) {
    const text = inHundred.trim().replace(',', '.');
    if (text === '') {
      figures.push(null);
      continue;
    }
    const figure = /^\d+(\.\d+)?$|^\.\d+$/.test(text) ? Number(text) : Number.NaN;
    if (!(figure > 0 && figure <= 100)) {
      const message = `Write the chance of ${code} as a number above 0, up to 100, or leave it empty.`;
      return { shares: [], unrecorded: 0, fault: { row, message } };
    }
    typed += figure;
    figures.push(figure / 100);
  }
  const empty = figures.filter((figure) => figure === null).length;
  // Figures are typed with few decimals; their sum in floating point may stray by a few units
  // in the last place, which is no fault of the reader's.
  const sum = Math.round(typed * 1e9) / 1e9;
  if (sum > 100) {
    const message = `The chances sum to ${sum} in 100. Lower one of them.`;
    return { shares: [], unrecorded: 0, fault: { row: null, message } };
  }
  if (sum === 100 && empty > 0) {
    const message = 'The chances sum to 100 already: nothing is left for the one without a figure.';
    return { shares: [], unrecorded: 0, fault: { row: null, message } };
  }
  const each = empty > 0 ? (100 - sum) / 100 / empty : 0;
  return {
    shares: figures.map((figure) => figure ?? each),
    unrecorded: empty > 0 ? 0 : (100 - sum) / 100,
  };
}

/** Rows of candidates the books already hold; figures are left out where they are equal parts of 1. */
export function parentRows(
  candidates: readonly {
    readonly animal: { readonly id: string; readonly code: string; readonly name: string | null };
    readonly probability: number;
  }[],
): ParentRow[] {
  const equal = candidates.every(
    ({ probability }) => Math.abs(probability * candidates.length - 1) < 1e-9,
  );
  return candidates.map(({ animal, probability }) => ({
    animalId: animal.id,
    code: animal.code,
    name: animal.name,
    inHundred: equal ? '' : String(Number((probability * 100).toPrecision(6))),
  }));
}
