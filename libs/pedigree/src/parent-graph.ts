import type { Fault } from '@scutewright/basics';
import { type Mixtures, mixturesAtPlaces, nodeMixtures } from './mixtures.js';
import type { Pedigree } from './pedigree.js';

/**
 * The animals that have young, and the uncertain parents, numbered so that a parent's number ('place') is always
 * lower than its offspring's: by depth, the longest line up to a founder. Everybody else reads
 * its figures off its two parents, so only these need a place.
 */
export interface ParentGraph {
  /** Number of places. */
  readonly count: number;
  /** Place by node (rows, then draws), -1 for an animal without young. */
  readonly placeOf: Int32Array;
  /** Node by place. */
  readonly nodeOf: Int32Array;
  /** By place: place of the sire, -1 not recorded, or `-2 - m`: its row is mixture m. */
  readonly sire: Int32Array;
  readonly dam: Int32Array;
  /** `levels[h]` is the first place of depth h; one entry more than there are depths. */
  readonly levels: Int32Array;
  readonly mixtures: Mixtures;
}

const graphs = new WeakMap<Pedigree, ParentGraph>();

/** The graph of a pedigree, kept as long as the pedigree object lives. Throws CycleError. Cost: linear. */
export function parentGraph(pedigree: Pedigree): ParentGraph {
  let graph = graphs.get(pedigree);
  if (!graph) {
    graph = buildGraph(pedigree);
    graphs.set(pedigree, graph);
  }
  return graph;
}

/** Thrown where animals are their own ancestors, with every loop found: nodes, each a parent of the one before. */
export class CycleError extends Error {
  override readonly name = 'CycleError';
  constructor(readonly loops: readonly (readonly number[])[]) {
    super(`Animals are their own ancestors: ${loops.length} loops.`);
  }
}

/** A fault for each loop. `idOfNode` answers null for an uncertain parent, which has no name. */
export function cycleFaults(
  { loops }: CycleError,
  idOfNode: (node: number) => string | null,
): Fault[] {
  return loops.map((loop) => {
    const ids = loop.map(idOfNode).filter((id) => id !== null);
    const shown = ids.length > 6 ? [...ids.slice(0, 6), '...'] : ids;
    return {
      code: 'CYCLE',
      message: `'${ids[0]}' is its own ancestor: ${[...shown, ids[0]].join(' < ')} (< has the parent).`,
      remedy: 'Correct one parent in this loop.',
      ids,
    };
  });
}

function buildGraph(pedigree: Pedigree): ParentGraph {
  const { size, sire, dam } = pedigree;
  const mixtures = nodeMixtures(pedigree);
  const nodes = size + pedigree.draws.length;

  // Temporary numbers of the nodes with young, in node order; -1 stays for the others.
  const marks = new Int32Array((nodes >> 5) + 1);
  for (const used of [sire, dam, mixtures.at, mixtures.member]) markNamed(used, marks);
  const node = listMarked(marks);
  const count = node.length;
  const placeOf = new Int32Array(nodes).fill(-1);
  for (let q = 0; q < count; q++) placeOf[node[q]] = q;
  const up = parentNumbers(node, sire, placeOf);
  const across = parentNumbers(node, dam, placeOf);
  const numbered = mixturesAtPlaces(mixtures, placeOf);
  numbered.at.forEach((q, m) => {
    up[q] = -2 - m;
  });

  const depth = depths(up, across, numbered, node);
  let deepest = -1;
  for (let q = 0; q < count; q++) if (depth[q] > deepest) deepest = depth[q];
  const levels = new Int32Array(deepest + 2);
  for (let q = 0; q < count; q++) levels[depth[q] + 1]++;
  for (let h = 0; h <= deepest; h++) levels[h + 1] += levels[h];
  const order = familyOrder(up, numbered, depth, levels);
  const place = busyFirst(order, up, across, numbered, depth, deepest);

  const nodeOf = new Int32Array(count);
  const graphSire = new Int32Array(count);
  const graphDam = new Int32Array(count);
  for (let q = 0; q < count; q++) {
    const at = place[q];
    nodeOf[at] = node[q];
    graphSire[at] = up[q] >= 0 ? place[up[q]] : up[q];
    graphDam[at] = across[q] >= 0 ? place[across[q]] : -1;
    placeOf[node[q]] = at;
  }
  return {
    count,
    placeOf,
    nodeOf,
    sire: graphSire,
    dam: graphDam,
    levels,
    mixtures: mixturesAtPlaces(mixtures, placeOf),
  };
}

// Each loop over all rows has a function of its own: the engine compiles it alone, and nothing that comes after it undoes that.

function markNamed(named: Int32Array, marks: Int32Array): void {
  for (let i = 0; i < named.length; i++) {
    const node = named[i];
    if (node >= 0) marks[node >> 5] |= 1 << (node & 31);
  }
}

function listMarked(marks: Int32Array): Int32Array {
  const nodes: number[] = [];
  for (let w = 0; w < marks.length; w++) {
    for (let word = marks[w]; word !== 0; word &= word - 1) {
      nodes.push((w << 5) | (31 - Math.clz32(word & -word)));
    }
  }
  return new Int32Array(nodes);
}

/** Number of each node's sire or dam; -1 for none, and for nodes that are not rows. */
function parentNumbers(node: Int32Array, parents: Int32Array, placeOf: Int32Array): Int32Array {
  const numbers = new Int32Array(node.length).fill(-1);
  for (let q = 0; q < node.length; q++) {
    const parent = node[q] < parents.length ? parents[node[q]] : -1;
    if (parent >= 0) numbers[q] = placeOf[parent];
  }
  return numbers;
}

/**
 * The numbers by depth, within a depth the young of one sire (the clutches that begin with one candidate) side by side in the order of their
 * sires: sires taken together then share ancestors. Any order within a depth gives the same figures.
 */
function familyOrder(
  up: Int32Array,
  { start, member }: Mixtures,
  depth: Int32Array,
  levels: Int32Array,
): Int32Array {
  const count = up.length;
  const next = levels.slice();
  const order = new Int32Array(count);
  const put = (q: number): void => {
    order[next[depth[q]]++] = q;
  };
  const ALONE = -2;
  const eldest = new Int32Array(count).fill(-1);
  const younger = new Int32Array(count);
  for (let q = count - 1; q >= 0; q--) {
    const m = -2 - up[q];
    const first = m < 0 ? up[q] : start[m] < start[m + 1] ? member[start[m]] : -1;
    younger[q] = first < 0 ? ALONE : eldest[first];
    if (first >= 0) eldest[first] = q;
  }
  for (let q = 0; q < count; q++) if (younger[q] === ALONE) put(q);
  for (let at = 0; at < count; at++) {
    for (let q = eldest[order[at]]; q >= 0; q = younger[q]) put(q);
  }
  return order;
}

/** Generations of parents below an animal that are told apart; more of them change nothing (measured up to all). */
const MOST_HEIGHT = 3;

/**
 * Places: the order by depth, within a depth those first whose line of parents goes on furthest. Most lines die out, and the few
 * that do not are the ancestors of everybody: what is read again and again then lies together.
 */
function busyFirst(
  order: Int32Array,
  up: Int32Array,
  across: Int32Array,
  { start, member }: Mixtures,
  depth: Int32Array,
  deepest: number,
): Int32Array {
  const height = new Uint8Array(order.length);
  for (let at = order.length - 1; at >= 0; at--) {
    const q = order[at];
    const above = Math.min(MOST_HEIGHT, height[q] + 1);
    const s = up[q];
    const d = across[q];
    if (s >= 0 && height[s] < above) height[s] = above;
    if (d >= 0 && height[d] < above) height[d] = above;
    if (s >= -1) continue;
    for (let e = start[-2 - s]; e < start[-1 - s]; e++) {
      if (height[member[e]] < above) height[member[e]] = above;
    }
  }
  // A stable counting sort.
  const next = new Int32Array((deepest + 1) * (MOST_HEIGHT + 1) + 1);
  const key = (q: number): number => (depth[q] + 1) * (MOST_HEIGHT + 1) - 1 - height[q];
  for (let q = 0; q < order.length; q++) next[key(q) + 1]++;
  for (let k = 0; k + 1 < next.length; k++) next[k + 1] += next[k];
  const place = new Int32Array(order.length);
  for (let at = 0; at < order.length; at++) place[order[at]] = next[key(order[at])]++;
  return place;
}

/** Longest line up to a founder, by a walk with its own stack: a million generations overflow nothing. */
function depths(
  up: Int32Array,
  across: Int32Array,
  { start, member }: Mixtures,
  node: Int32Array,
): Int32Array {
  const UNSEEN = -1;
  const OPEN = -2;
  const depth = new Int32Array(up.length).fill(UNSEEN);
  const stack: number[] = [];
  const loops: number[][] = [];
  for (let first = 0; first < up.length; first++) {
    if (depth[first] !== UNSEEN) continue;
    stack.push(first);
    while (stack.length > 0) {
      const q = stack[stack.length - 1];
      depth[q] = OPEN;
      const m = -2 - up[q];
      const total = m < 0 ? 2 : start[m + 1] - start[m];
      let deepest = 0;
      let waits = false;
      for (let e = 0; e < total; e++) {
        let parent = e === 0 ? up[q] : across[q];
        if (m >= 0) parent = member[start[m] + e];
        if (parent < 0) continue;
        if (depth[parent] === OPEN) {
          loops.push(stack.slice(stack.indexOf(parent)).map((each) => node[each]));
          continue; // as if this parent were not recorded, to find the other loops too
        }
        if (depth[parent] === UNSEEN) {
          stack.push(parent);
          waits = true;
          break;
        }
        if (depth[parent] >= deepest) deepest = depth[parent] + 1;
      }
      if (waits) continue;
      depth[q] = deepest;
      stack.pop();
    }
  }
  if (loops.length > 0) throw new CycleError(loops);
  return depth;
}
