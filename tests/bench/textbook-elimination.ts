import type { InventedProgram } from './inference-program.js';

/** A table over variables of three or fewer states, last fastest. */
interface Table {
  readonly scope: readonly number[];
  readonly values: Float64Array;
}

/**
 * Natural logarithm of the probability of an invented program's records, as a textbook would do it: one variable an animal (copies of
 * the allele) and one a clutch of uncertain sire, one table a child, variables summed out one after another, that with the
 * smallest table next. Nothing is pruned, folded or deleted, and no marginals are found. Independent of the library.
 */
export function textbookLogEvidence({ input }: InventedProgram): number {
  const q = Number(input.loci[0].frequencies?.a);
  const number = new Map(input.animals.map(({ id }, i) => [id, i]));
  const sizes = input.animals.map(() => 3);
  const tables: Table[] = [];
  const add = (scope: number[], value: (states: readonly number[]) => number): void => {
    const values: number[] = [];
    const visit = (states: readonly number[]): void => {
      if (states.length === scope.length) values.push(value(states));
      else for (let s = 0; s < sizes[scope[states.length]]; s++) visit([...states, s]);
    };
    visit([]);
    tables.push({ scope, values: Float64Array.from(values) });
  };
  const evidence = input.evidence ?? [];
  const declared = new Set(evidence.flatMap((e) => (e.kind === 'prior' ? [e.animal] : [])));
  const clutches = new Map((input.clutches ?? []).map((clutch) => [clutch.id, clutch]));
  const selectors = new Map<string, number>();
  const pass = (copies: number): number => copies / 2;
  const child = (copies: number, sire: number, dam: number): number => {
    const [s, d] = [pass(sire), pass(dam)];
    return [(1 - s) * (1 - d), s * (1 - d) + d * (1 - s), s * d][copies];
  };
  for (const [i, { id, clutch }] of input.animals.entries()) {
    const own = clutch ? clutches.get(clutch) : undefined;
    if (!own?.dam || !own.sires) {
      // The invented programs declare only founders free of the allele.
      const chances = declared.has(id) ? [1, 0, 0] : [(1 - q) ** 2, 2 * q * (1 - q), q ** 2];
      add([i], ([copies]) => chances[copies]);
      continue;
    }
    const dam = number.get(own.dam)!;
    const sires = own.sires.map((sire) => number.get(sire.id)!);
    if (sires.length === 1) {
      add([i, dam, sires[0]], ([copies, d, s]) => child(copies, s, d));
      continue;
    }
    let selector = selectors.get(own.id);
    if (selector === undefined) {
      selector = sizes.push(sires.length) - 1;
      selectors.set(own.id, selector);
      add([selector], () => 1 / sires.length);
    }
    add([i, dam, selector, ...sires], ([copies, d, k, ...s]) => child(copies, s[k], d));
  }
  for (const record of evidence) {
    if (record.kind === 'phenotype') {
      const misread = Number(record.misread);
      const right = (copies: number) => (copies === 2) === record.seen;
      add([number.get(record.animal)!], ([c]) => (right(c) ? 1 - misread : misread));
    } else if (record.kind === 'dna') {
      const told = ['n/n', 'n/a', 'a/a'].indexOf(record.genotype);
      add([number.get(record.animal)!], ([copies]) => (copies === told ? 0.99 : 0.005));
    }
  }
  return sumOutAll(tables, sizes);
}

function sumOutAll(given: readonly Table[], sizes: readonly number[]): number {
  const touching = sizes.map(() => new Set<Table>());
  for (const table of given) for (const variable of table.scope) touching[variable].add(table);
  const left = new Set(sizes.keys());
  let log = 0;
  const scopeAround = (variable: number): number[] => {
    const others = new Set<number>();
    for (const { scope } of touching[variable]) for (const other of scope) others.add(other);
    others.delete(variable);
    return [...others];
  };
  const cost = (variable: number): number =>
    scopeAround(variable).reduce((size, other) => size * sizes[other], 1);
  const costs = sizes.map((_, variable) => cost(variable));
  while (left.size > 0) {
    let next = -1;
    for (const variable of left) if (next < 0 || costs[variable] < costs[next]) next = variable;
    left.delete(next);
    const scope = scopeAround(next);
    const factors = [...touching[next]];
    const values = new Float64Array(costs[next]);
    const states = new Int32Array(sizes.length);
    for (let entry = 0; entry < values.length; entry++) {
      let rest = entry;
      for (let axis = scope.length - 1; axis >= 0; axis--) {
        states[scope[axis]] = rest % sizes[scope[axis]];
        rest = Math.floor(rest / sizes[scope[axis]]);
      }
      for (states[next] = 0; states[next] < sizes[next]; states[next]++) {
        let product = 1;
        for (const table of factors) {
          let at = 0;
          for (const variable of table.scope) at = at * sizes[variable] + states[variable];
          product *= table.values[at];
        }
        values[entry] += product;
      }
    }
    for (const table of factors)
      for (const variable of table.scope) touching[variable].delete(table);
    const largest = values.reduce((most, value) => Math.max(most, value), 0);
    log += Math.log(largest);
    for (let entry = 0; entry < values.length; entry++) values[entry] /= largest;
    const message = { scope, values };
    for (const variable of scope) {
      touching[variable].add(message);
      costs[variable] = cost(variable);
    }
  }
  return log;
}
