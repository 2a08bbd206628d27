import type { Fault } from '@scutewright/basics';
import { founderRows } from './founder-kin.js';
import { sireMoments } from './paternity.js';
import type { Draw, Pedigree } from './pedigree.js';

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

/**
 * Rows that are not the mean of two parents: row_m = sum weight_e row_e over its members e. Three kinds:
 * AVERAGE, the mean row of a set of candidates, shared by all clutches with the same set; its a_mm is the form w'Aw, D = 0.
 * DRAWN, the uncertain parent of one clutch or an animal of several possible clutches; its only member is an AVERAGE, and
 * a_mm = constant_m + sum share_t a_tt over its terms t. FOUNDER, one with declared kin: a_mm = 1, D = constant_m.
 */
export interface Mixtures {
  readonly kind: Uint8Array;
  readonly start: Int32Array;
  readonly member: Int32Array;
  readonly weight: Float64Array;
  readonly constant: Float64Array;
  readonly termStart: Int32Array;
  readonly term: Int32Array;
  readonly share: Float64Array;
}

export const AVERAGE = 0;
export const DRAWN = 1;
export const FOUNDER = 2;

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
  const nodes = mixtures.node.reduce((most, each) => Math.max(most, each + 1), size);

  // Temporary numbers of the nodes with young, in node order; -1 stays for the others.
  const placeOf = new Int32Array(nodes).fill(-1);
  for (let i = 0; i < size; i++) {
    const s = sire[i];
    const d = dam[i];
    if (s >= 0) placeOf[s] = 0;
    if (d >= 0) placeOf[d] = 0;
  }
  for (const used of [mixtures.node, mixtures.member, mixtures.term]) {
    for (const node of used) placeOf[node] = 0;
  }
  let count = 0;
  for (let node = 0; node < nodes; node++) if (placeOf[node] === 0) placeOf[node] = count++;
  const node = new Int32Array(count);
  const up = new Int32Array(count);
  const across = new Int32Array(count);
  for (let v = 0; v < nodes; v++) {
    const q = placeOf[v];
    if (q < 0) continue;
    node[q] = v;
    up[q] = v >= size || sire[v] < 0 ? -1 : placeOf[sire[v]];
    across[q] = v >= size || dam[v] < 0 ? -1 : placeOf[dam[v]];
  }
  mixtures.node.forEach((v, m) => {
    up[placeOf[v]] = -2 - m;
  });

  const depth = depths(up, across, mixtures.atPlaces(placeOf), node);
  let deepest = -1;
  for (let q = 0; q < count; q++) if (depth[q] > deepest) deepest = depth[q];
  const levels = new Int32Array(deepest + 2);
  for (let q = 0; q < count; q++) levels[depth[q] + 1]++;
  for (let h = 0; h <= deepest; h++) levels[h + 1] += levels[h];
  const next = levels.slice();
  const place = new Int32Array(count);
  for (let q = 0; q < count; q++) place[q] = next[depth[q]]++;

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
    mixtures: mixtures.atPlaces(placeOf),
  };
}

/** Longest line up to a founder, by a walk with its own stack: a million generations overflow nothing. */
function depths(
  up: Int32Array,
  across: Int32Array,
  { start, member, termStart, term }: Mixtures,
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
      const members = m < 0 ? 0 : start[m + 1] - start[m];
      const total = m < 0 ? 2 : members + termStart[m + 1] - termStart[m];
      let deepest = 0;
      let waits = false;
      for (let e = 0; e < total; e++) {
        let parent = e === 0 ? up[q] : across[q];
        if (m >= 0) parent = e < members ? member[start[m] + e] : term[termStart[m] + e - members];
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

/** The mixtures in node numbers, as lists to add to. */
class MixtureList {
  readonly node: number[] = [];
  readonly kind: number[] = [];
  readonly constant: number[] = [];
  readonly start = [0];
  readonly member: number[] = [];
  readonly weight: number[] = [];
  readonly termStart = [0];
  readonly term: number[] = [];
  readonly share: number[] = [];

  /** Adds a mixture of the members and terms pushed since the last one. */
  close(kind: number, node: number, constant: number): void {
    this.kind.push(kind);
    this.node.push(node);
    this.constant.push(constant);
    this.start.push(this.member.length);
    this.termStart.push(this.term.length);
  }

  atPlaces(placeOf: Int32Array): Mixtures {
    return {
      kind: Uint8Array.from(this.kind),
      start: Int32Array.from(this.start),
      member: Int32Array.from(this.member, (v) => placeOf[v]),
      weight: Float64Array.from(this.weight),
      constant: Float64Array.from(this.constant),
      termStart: Int32Array.from(this.termStart),
      term: Int32Array.from(this.term, (v) => placeOf[v]),
      share: Float64Array.from(this.share),
    };
  }
}

/** The draws, the finds and the declared founder kin as mixtures. */
function nodeMixtures(pedigree: Pedigree): MixtureList {
  const { size, draws, finds } = pedigree;
  const list = new MixtureList();
  const averages = new Map<string, number>();
  const average = (candidates: Int32Array, weight: Float64Array): number => {
    const key = `${candidates.join()} ${weight.join()}`;
    let node = averages.get(key);
    if (node === undefined) {
      node = size + draws.length + averages.size;
      averages.set(key, node);
      list.member.push(...candidates);
      list.weight.push(...weight);
      list.close(AVERAGE, node, 0);
    }
    return node;
  };
  const drawn = (node: number, { candidates, probabilities, paternity }: Draw): void => {
    const { weight, same, stranger, cross } = sireMoments(probabilities, paternity);
    const row = average(candidates, weight);
    const plain = cross > 0 ? average(candidates, probabilities) : -1;
    if (plain >= 0) {
      list.term.push(plain);
      list.share.push(cross);
    }
    list.member.push(row);
    list.weight.push(1);
    list.term.push(...candidates);
    list.share.push(...same);
    list.close(DRAWN, node, stranger);
  };
  draws.forEach((draw, k) => {
    drawn(size + k, draw);
  });
  for (const [row, draw] of finds) drawn(row, draw);
  for (const { row, members, weights, own } of founderRows(pedigree)) {
    list.member.push(...members);
    list.weight.push(...weights);
    list.close(FOUNDER, row, own);
  }
  return list;
}
