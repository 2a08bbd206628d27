import { type Random, seededRandom } from '@scutewright/basics';
import {
  buildPedigree,
  droppedAncestralInbreeding,
  inbreedingRange,
  MIXED,
  ONE_SIRE,
  type Paternity,
  type PedigreeRow,
  relatedness,
  TWO_SIRES,
} from '@scutewright/pedigree';

/**
 * Gene drop against kinship, with the clutches' sires drawn anew in every replicate, by a program that shares
 * nothing with the kernels but the rows. Each line ends in a number with its 99.9 % interval.
 */
export function run(): boolean {
  const holds = [ONE_SIRE, MIXED(0.46), TWO_SIRES(0.46)].map((paternity, n) =>
    dropAgainstKinship(paternity, seededRandom(41 + n)),
  );
  holds.push(samplesAgainstExact(seededRandom(77)));
  return holds.every(Boolean);
}

const REPLICATES = 200_000;
/** Two-sided 99.9 %. */
const Z = 3.29;

interface Clutch {
  readonly young: readonly string[];
  readonly sires: readonly (readonly [string, number])[];
  readonly dam: string;
}

/** An invented yard: three males in doubt over three generations, with loops. */
const FOUNDERS = ['Basil', 'Cumin', 'Dill', 'Sorrel', 'Thyme'];
const CLUTCHES: readonly Clutch[] = [
  {
    young: ['a1', 'a2', 'a3'],
    sires: [
      ['Basil', 0.5],
      ['Cumin', 0.3],
      ['Dill', 0.2],
    ],
    dam: 'Sorrel',
  },
  {
    young: ['b1', 'b2'],
    sires: [
      ['Basil', 0.6],
      ['Cumin', 0.2],
    ],
    dam: 'Thyme',
  },
  {
    young: ['c1', 'c2'],
    sires: [
      ['a1', 0.5],
      ['Basil', 0.5],
    ],
    dam: 'b2',
  },
  {
    young: ['d1', 'd2'],
    sires: [
      ['c1', 0.7],
      ['a1', 0.3],
    ],
    dam: 'a2',
  },
  { young: ['e1'], sires: [['d1', 1]], dam: 'c2' },
];

/** Found in the grass: of the clutch before, of the one before that, or of nobody's, drawn once with mother and father. */
const FOUND = {
  id: 'f1',
  clutches: [
    [3, 0.5],
    [1, 0.3],
  ],
} as const;

function rowsOfYard(): PedigreeRow[] {
  return [
    ...FOUNDERS.map((id) => ({ id })),
    ...CLUTCHES.flatMap(({ young }, c) => young.map((id) => ({ id, ...parentsOf(c) }))),
    {
      id: FOUND.id,
      possibleClutches: FOUND.clutches.map(([c, probability]) => ({
        ...parentsOf(c),
        probability,
      })),
    },
  ];
}

function parentsOf(c: number) {
  const { sires, dam } = CLUTCHES[c];
  const sire = sires.map(([candidate, probability]) => ({ id: candidate, probability }));
  return { dam, clutch: `c${c}`, sire };
}

function dropAgainstKinship(paternity: Paternity, random: Random): boolean {
  const pairs = [
    ['a1', 'a2'],
    ['b1', 'b2'],
    ['c1', 'd2'],
    ['d1', 'e1'],
    ['d1', 'c2'],
    ['f1', 'd1'],
    ['f1', 'b1'],
    ['f1', 'e1'],
  ] as const;
  const pedigree = buildPedigree(rowsOfYard(), { paternity });
  const hits = new Float64Array(pairs.length);
  for (let replicate = 0; replicate < REPLICATES; replicate++) {
    const genes = dropOnce(paternity, random);
    pairs.forEach(([a, b], k) => {
      const one = genes.get(a)?.[random.below(2)];
      const other = genes.get(b)?.[random.below(2)];
      if (one === other) hits[k]++;
    });
  }
  return pairs
    .map(([a, b], k) => {
      const expected = relatedness(pedigree, [a, b])[1] / 2;
      const found = hits[k] / REPLICATES;
      const reach = Z * Math.sqrt((expected * (1 - expected)) / REPLICATES);
      const holds = Math.abs(found - expected) <= reach;
      console.log(
        `${paternity.kind}: kinship of ${a} and ${b} ${expected.toFixed(5)}, gene drop ${found.toFixed(5)} +- ${reach.toFixed(5)} ${holds ? 'holds' : 'FAILS'}`,
      );
      return holds;
    })
    .every(Boolean);
}

function dropOnce(paternity: Paternity, random: Random): Map<string, [number, number]> {
  let next = 0;
  const fresh = (): [number, number] => [next++, next++];
  const genes = new Map(FOUNDERS.map((id) => [id, fresh()]));
  let u = random.next();
  const ofClutch = FOUND.clutches.find(([, p]) => {
    u -= p;
    return u < 0;
  })?.[0];
  if (ofClutch === undefined) genes.set(FOUND.id, fresh());
  for (const [c, { young, sires, dam }] of CLUTCHES.entries()) {
    const draw = (): string => {
      let u = random.next();
      for (const [id, p] of sires) {
        u -= p;
        if (u < 0) return id;
      }
      const stranger = `male ${next}`;
      genes.set(stranger, fresh());
      return stranger;
    };
    const one = draw();
    let sireOf = (): string => one;
    if (paternity.kind === 'MIXED' && random.next() < paternity.rate) sireOf = draw;
    const isCertain = sires.length === 1 && sires[0][1] === 1;
    if (paternity.kind === 'TWO_SIRES' && !isCertain && random.next() < paternity.rate) {
      let pair = [draw(), draw()];
      while (pair[0] === pair[1]) pair = [draw(), draw()];
      sireOf = () => pair[random.below(2)];
    }
    for (const id of c === ofClutch ? [...young, FOUND.id] : young) {
      const [fromSire, fromDam] = [sireOf(), dam].map(
        (parent) => genes.get(parent)?.[random.below(2)] ?? -1,
      );
      genes.set(id, [fromSire, fromDam]);
    }
  }
  return genes;
}

/** The sampled forms of figures that also have an exact one. */
function samplesAgainstExact(random: Random): boolean {
  const pedigree = buildPedigree(rowsOfYard());
  const exact = inbreedingRange(pedigree, 'e1');
  const sampled = inbreedingRange(pedigree, 'e1', { mostAssignments: 1, random, samples: 20_000 });
  const reach = Z * sampled.standardError;
  const holds = exact.exact && !sampled.exact && Math.abs(exact.mean - sampled.mean) <= reach;
  console.log(
    `F of e1 over its sires ${exact.mean.toFixed(5)}, sampled ${sampled.mean.toFixed(5)} +- ${reach.toFixed(5)} ${holds ? 'holds' : 'FAILS'}`,
  );
  // Six generations of full sibs have too many meioses for counting every outcome.
  const line: PedigreeRow[] = [{ id: 'm0' }, { id: 'f0' }];
  for (let g = 1; g <= 6; g++) {
    line.push({ id: `m${g}`, sire: `m${g - 1}`, dam: `f${g - 1}` });
    line.push({ id: `f${g}`, sire: `m${g - 1}`, dam: `f${g - 1}` });
  }
  const replicates = 100_000;
  const [dropped] = droppedAncestralInbreeding(buildPedigree(line), ['m6'], { random, replicates });
  let exposed = 0;
  for (let replicate = 0; replicate < replicates; replicate++) exposed += exposedAfter(6, random);
  const twin = exposed / replicates;
  const range = Z * Math.SQRT2 * dropped.standardError;
  const agrees = Math.abs(dropped.value - twin) <= range;
  console.log(
    `ancestral F of full sibs, generation 6: ${dropped.value.toFixed(5)}, twin ${twin.toFixed(5)} +- ${range.toFixed(5)} ${agrees ? 'holds' : 'FAILS'}`,
  );
  return holds && agrees;
}

/** One drop down a line of full sibs: share of an animal's genes that were in an animal homozygous by descent. */
function exposedAfter(generations: number, random: Random): number {
  type Gene = readonly [name: number, wasExposed: boolean];
  let pair: [Gene, Gene][] = [
    [
      [0, false],
      [1, false],
    ],
    [
      [2, false],
      [3, false],
    ],
  ];
  for (let g = 1; g <= generations; g++) {
    const parents = pair.map(([one, other]): [Gene, Gene] =>
      one[0] === other[0]
        ? [
            [one[0], true],
            [one[0], true],
          ]
        : [one, other],
    );
    const young = (): [Gene, Gene] => [parents[0][random.below(2)], parents[1][random.below(2)]];
    pair = [young(), young()];
  }
  return pair[0].filter(([, wasExposed]) => wasExposed).length / 2;
}
