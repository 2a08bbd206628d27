import { seededRandom } from '@scutewright/basics';
import { inferProgram, readProgram } from '@scutewright/inference';

const PROGRAMS = 400;
const Q = 0.15;
const MISREAD = 0.02;
const BINS = 10;

/**
 * Calibration: invented programs whose truth is drawn from the very assumptions that inference makes. Of the animals called 0.6 to
 * 0.7, 60 to 70 % must carry. Each bin's count of true carriers is compared with the sum of its probabilities; animals of a program are not
 * independent, so the spread is taken between programs. Four standard errors fail.
 */
export function run(): boolean {
  const random = seededRandom(20_261);
  const excess = Array.from({ length: BINS }, () => [] as number[]);
  const called = new Float64Array(BINS);
  const carried = new Float64Array(BINS);
  for (let p = 0; p < PROGRAMS; p++) {
    const { program, copies } = invent(random);
    const found = inferProgram(program);
    const own = new Float64Array(BINS);
    for (const [animal, alleles] of copies.entries()) {
      const chance = found.genotypes[animal * found.stride + 1];
      const bin = Math.min(BINS - 1, Math.floor(chance * BINS));
      called[bin] += 1;
      carried[bin] += Number(alleles === 1);
      own[bin] += Number(alleles === 1) - chance;
    }
    for (let bin = 0; bin < BINS; bin++) excess[bin].push(own[bin]);
  }
  let holds = true;
  for (let bin = 0; bin < BINS; bin++) {
    const sum = excess[bin].reduce((a, b) => a + b, 0);
    const error = Math.sqrt(excess[bin].reduce((a, b) => a + b * b, 0));
    const fits = error === 0 ? sum === 0 : Math.abs(sum) < 4 * error;
    holds &&= fits;
    const share = carried[bin] / Math.max(1, called[bin]);
    const half = (1.96 * error) / Math.max(1, called[bin]);
    console.log(
      `called het ${(bin / BINS).toFixed(1)} to ${((bin + 1) / BINS).toFixed(1)}: ${called[bin]} animals, ${(100 * share).toFixed(1)} % are (+- ${(100 * half).toFixed(1)})${fits ? '' : '  <-- off'}`,
    );
  }
  return holds;
}

/** Founders by Hardy-Weinberg, clutches by one of three candidates drawn evenly, looks misread at the stated rate. */
function invent(random: ReturnType<typeof seededRandom>) {
  const copies: number[] = [];
  const animals: { id: string; sex: 'm' | 'f'; clutch?: string }[] = [];
  const clutches = [];
  const add = (alleles: number, clutch?: string): void => {
    const id = `A${animals.length}`;
    animals.push({ id, sex: animals.length % 2 ? 'f' : 'm', ...(clutch ? { clutch } : {}) });
    copies.push(alleles);
  };
  for (let i = 0; i < 8; i++) add(Number(random.next() < Q) + Number(random.next() < Q));
  for (let c = 0; c < 9; c++) {
    const recent = animals.slice(-12);
    const males = recent.filter(({ sex }) => sex === 'm').slice(0, 3);
    const females = recent.filter(({ sex }) => sex === 'f');
    const sire = males[random.below(males.length)].id;
    const dam = females[random.below(females.length)].id;
    const id = `c${c}`;
    clutches.push({
      id,
      dam,
      sires: males.map((m) => ({ id: m.id, probability: `1/${males.length}` })),
    });
    const from = (parent: string): number =>
      Number(random.next() * 2 < copies[Number(parent.slice(1))]);
    for (let i = 0; i < 4; i++) add(from(sire) + from(dam), id);
  }
  const evidence = animals.flatMap(({ id }, i) =>
    random.next() < 0.8
      ? [
          {
            kind: 'phenotype' as const,
            animal: id,
            trait: 'pale',
            seen: (copies[i] === 2) !== random.next() < MISREAD,
            misread: MISREAD,
          },
        ]
      : [],
  );
  const { program } = readProgram({
    loci: [{ id: 'p', alleles: ['n', 'a'], frequencies: { n: 1 - Q, a: Q } }],
    traits: [{ id: 'pale', when: { locus: 'p', genotypes: ['a/a'] } }],
    animals,
    clutches,
    evidence,
  });
  return { program, copies };
}
