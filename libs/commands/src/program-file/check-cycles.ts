import type { Headings } from './check-links.js';
import { parentsOf, SIDES } from './clutch-parents.js';
import type { FileFaults } from './file-fault.js';
import type { WouldBe } from './would-be.js';

/** Animals looked at for telling loops apart; a worse tangle is told as a whole, with all links inside it. */
const MOST_WORK = 5_000_000;
const MOST_NAMED = 12;

/**
 * Adds a fault at every link of the file that makes an animal its own ancestor: per group of entangled animals a
 * short loop, then what is left without the links already reported. Cost: animals plus links for each round.
 */
export function checkCycles(
  animals: ReadonlyMap<string, WouldBe>,
  headings: Headings,
  faults: FileFaults,
): void {
  const list = [...animals.values()];
  const positions = new Map(list.map((animal, i) => [animal.code, i]));
  const parents: number[][] = list.map((animal, i) => {
    const found = new Set<number>();
    for (const { code } of [...animal.sires, ...animal.dams]) {
      const parent = positions.get(code);
      if (parent !== undefined && parent !== i) found.add(parent);
    }
    return [...found];
  });
  let work = 0;
  for (;;) {
    const groups = entangled(parents);
    if (groups.length === 0) return;
    for (const group of groups) {
      work += list.length + group.length;
      const loop = work < MOST_WORK ? shortLoop(parents, group) : null;
      const members = new Set(loop ?? group);
      for (const [step, young] of (loop ?? group).entries()) {
        const isTold = (parent: number): boolean =>
          loop ? parent === loop[(step + 1) % loop.length] : members.has(parent);
        for (const parent of parents[young]) {
          if (isTold(parent))
            addFault(list[young], list[parent], loop ?? group, list, headings, faults);
        }
        parents[young] = parents[young].filter((parent) => !isTold(parent));
      }
    }
  }
}

function addFault(
  young: WouldBe,
  parent: WouldBe,
  loop: readonly number[],
  list: readonly WouldBe[],
  headings: Headings,
  faults: FileFaults,
): void {
  const row = young.row;
  if (!row) return;
  const named = loop.slice(0, MOST_NAMED).map((i) => `'${list[i].code}'`);
  const rest = loop.length > MOST_NAMED ? ` and ${loop.length - MOST_NAMED} more` : '';
  for (const side of SIDES) {
    if (!young.isFromFile[side]) continue;
    if (!parentsOf(young, side).some(({ code }) => code === parent.code)) continue;
    faults.add({
      code: 'CYCLE',
      isFatal: true,
      line: row.line,
      column: headings[side],
      value: parent.code,
      message: `'${young.code}' would be its own ancestor, in a loop of ${named.join(', ')}${rest}.`,
      remedy: `One of the ${loop.length} links is wrong: correct it.`,
    });
  }
}

/** Groups of at least two positions that all descend from each other. */
function entangled(parents: readonly (readonly number[])[]): number[][] {
  // Tarjan 1972, SIAM J. Comput. 1:146, with a stack of our own: pedigrees can be deep.
  const n = parents.length;
  const order = new Int32Array(n).fill(-1);
  const low = new Int32Array(n);
  const isOpen = new Uint8Array(n);
  const nextChild = new Int32Array(n);
  const open: number[] = [];
  const path: number[] = [];
  const groups: number[][] = [];
  let count = 0;
  for (let root = 0; root < n; root++) {
    if (order[root] >= 0) continue;
    path.push(root);
    while (path.length > 0) {
      const at = path[path.length - 1];
      if (order[at] < 0) {
        order[at] = low[at] = count++;
        isOpen[at] = 1;
        open.push(at);
      }
      if (nextChild[at] < parents[at].length) {
        const next = parents[at][nextChild[at]++];
        if (order[next] < 0) path.push(next);
        else if (isOpen[next]) low[at] = Math.min(low[at], order[next]);
        continue;
      }
      path.pop();
      if (path.length > 0) {
        const above = path[path.length - 1];
        low[above] = Math.min(low[above], low[at]);
      }
      if (low[at] !== order[at]) continue;
      const group: number[] = [];
      let member: number;
      do {
        member = open.pop()!;
        isOpen[member] = 0;
        group.push(member);
      } while (member !== at);
      if (group.length > 1) groups.push(group);
    }
  }
  return groups;
}

/** A shortest loop through the group's first member: breadth first from it, along parents, back to it. */
function shortLoop(
  parents: readonly (readonly number[])[],
  group: readonly number[],
): readonly number[] | null {
  const inside = new Set(group);
  const [start] = group;
  const cameFrom = new Map<number, number>();
  const queue = [start];
  for (const at of queue) {
    for (const next of parents[at]) {
      if (!inside.has(next)) continue;
      if (next === start) {
        const back = [at];
        while (back[back.length - 1] !== start) back.push(cameFrom.get(back[back.length - 1])!);
        return back.reverse();
      }
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, at);
      queue.push(next);
    }
  }
  return null;
}
