import { inferProgram, type NamedProgram, readProgram, whyGenotype } from '@scutewright/inference';
import { type InventedProgram, inventProgram, type ProgramPlan } from './inference-program.js';
import { textbookLogEvidence } from './textbook-elimination.js';

const FEW = {
  founders: 16,
  years: 15,
  males: 5,
  females: 9,
  turnover: 0.08,
  clutch: [3, 20],
} as const;
const SMALL = {
  founders: 32,
  years: 6,
  males: 12,
  females: 20,
  turnover: 0.3,
  clutch: [1, 5],
} as const;
const LINE = {
  founders: 20,
  years: 20,
  males: 5,
  females: 14,
  turnover: 0.1,
  clutch: [3, 12],
} as const;
const MANY = {
  founders: 60,
  years: 20,
  males: 15,
  females: 40,
  turnover: 0.1,
  clutch: [3, 12],
} as const;
const KINDS: readonly [string, Omit<ProgramPlan, 'uncertain' | 'misread' | 'declared'>][] = [
  ['140', { animals: 140, ...FEW }],
  ['300, few breeders', { animals: 300, ...FEW }],
  ['300, small clutches', { animals: 300, ...SMALL }],
  ['2,000, one line', { animals: 2000, ...LINE }],
  ['10,000', { animals: 10_000, ...MANY }],
];
/** Where one run takes longer, why is not asked twelve times over. */
const LONG_MS = 250;
const SETTINGS = [
  { misread: 'young', declared: false },
  { misread: 'all', declared: true },
  { misread: 'all', declared: false },
] as const;

/**
 * One recessive locus, invented programs: cold and best of three, by size, share of uncertain clutches and misreads; beside the small
 * ones a textbook elimination that finds the probability of the records alone, without any posterior.
 */
export function run(): void {
  console.log(
    'program | uncertain | misreads | breeders | method | width | 2^ entries | cold ms | best ms | MB | textbook ms (difference of the logarithms) | why: cost of one animal in runs, median and most of 12',
  );
  for (const [name, kind] of KINDS) {
    for (const uncertain of [0.3, 0.6]) {
      // The largest is sampled: two settings of it say enough.
      for (const setting of kind.animals > 5000 ? SETTINGS.slice(1) : SETTINGS) {
        const invented = inventProgram({ ...kind, ...setting, uncertain }, 7);
        const { breeders } = invented;
        const { program } = readProgram(invented.input);
        const times: number[] = [];
        let line = '';
        let log = 0;
        for (let i = 0; i < 3; i++) {
          const before = performance.now();
          const { effort, logEvidence } = inferProgram(program);
          times.push(performance.now() - before);
          log = logEvidence;
          line = `${effort.method}${effort.deletedMass ? ` (${effort.deletedMass.toExponential(1)})` : ''} | ${effort.width} | ${Math.log2(effort.entries).toFixed(1)}`;
          if (times[i] > 3000) break;
        }
        // The processor's own time, least of three, so that a busy machine shifts the ratio little.
        const why = times[0] > LONG_MS ? '-' : ratioOfWhy(program);
        const textbook = kind.founders === FEW.founders ? timeTextbook(invented, log) : '-';
        const megabytes = process.memoryUsage().rss / 2 ** 20;
        const misreads =
          setting.misread === 'all'
            ? setting.declared
              ? 'all, free founders declared'
              : 'all'
            : 'young only';
        console.log(
          `${name} | ${uncertain * 100} % | ${misreads} | ${breeders} | ${line} | ${times[0].toFixed(1)} | ${Math.min(...times).toFixed(1)} | ${megabytes.toFixed(0)} | ${textbook} | ${why}`,
        );
      }
    }
  }
}

function ratioOfWhy(program: NamedProgram['program']): string {
  const run = Math.min(...[0, 1, 2].map(() => processorTime(() => inferProgram(program))));
  const ratios = Array.from({ length: 12 }, (_, i) => {
    const animal = Math.floor((i * program.sex.length) / 12);
    return processorTime(() => whyGenotype(program, animal, 0)) / run;
  }).sort((a, b) => a - b);
  return `${ratios[6].toFixed(1)} and ${ratios[11].toFixed(1)}`;
}

function processorTime(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function timeTextbook(invented: InventedProgram, logEvidence: number): string {
  const before = performance.now();
  const log = textbookLogEvidence(invented);
  const milliseconds = performance.now() - before;
  const difference = Math.abs(log - logEvidence);
  if (!(difference < 1e-9)) throw new Error(`the textbook finds ${log}, the kernel ${logEvidence}`);
  return `${milliseconds.toFixed(0)} (${difference.toExponential(0)})`;
}
