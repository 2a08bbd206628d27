import { seededRandom } from '@scutewright/basics';

/** Invented populations for timing; rows in random order unless asked otherwise. */
export interface Population {
  readonly sire: Int32Array;
  readonly dam: Int32Array;
}

export interface PopulationPlan {
  readonly rows: number;
  /** Closed lines that exchange a male now and then. */
  readonly lines: number;
  readonly years: number;
  /** New breeders a line takes each year; a sire serves 3 years, a dam 4. */
  readonly newSires: number;
  readonly newDams: number;
  readonly largestClutch: number;
  readonly seed: number;
  readonly ordered?: boolean;
}

export const PLANS = {
  program300: plan({ rows: 300, lines: 1, years: 12, newSires: 1, newDams: 2, largestClutch: 12 }),
  spread100k: plan({
    rows: 100_000,
    lines: 5,
    years: 60,
    newSires: 1,
    newDams: 4,
    largestClutch: 20,
  }),
  spread1m: plan({
    rows: 1_000_000,
    lines: 50,
    years: 60,
    newSires: 1,
    newDams: 5,
    largestClutch: 20,
  }),
  dense1m: plan({
    rows: 1_000_000,
    lines: 1,
    years: 60,
    newSires: 156,
    newDams: 2400,
    largestClutch: 2,
  }),
  spread10m: plan({
    rows: 10_000_000,
    lines: 500,
    years: 60,
    newSires: 1,
    newDams: 5,
    largestClutch: 20,
  }),
} as const;

function plan(given: Omit<PopulationPlan, 'seed'>): PopulationPlan {
  return { ...given, seed: 20_240_601 };
}

/** Births year by year; breeders are taken from the births of the last ten years of their line. */
export function generate(plan: PopulationPlan): Population {
  const { rows, lines, years } = plan;
  const random = seededRandom(plan.seed);
  const sire = new Int32Array(rows).fill(-1);
  const dam = new Int32Array(rows).fill(-1);
  const founders = Math.max(2, plan.newSires * 3 + plan.newDams * 4);
  const births: Int32Array[][] = Array.from({ length: lines }, () => []);
  const sires: number[][] = Array.from({ length: lines }, () => []);
  const dams: number[][] = Array.from({ length: lines }, () => []);
  let next = 0;
  for (let line = 0; line < lines; line++) {
    for (let i = 0; i < founders && next < rows; i++) {
      (i < plan.newSires * 3 ? sires : dams)[line].push(next++);
    }
  }
  const perYear = Math.ceil((rows - next) / years / lines);
  for (let year = 0; year < years; year++) {
    for (let line = 0; line < lines; line++) {
      const start = next;
      const end = Math.min(rows, next + perYear);
      while (next < end) {
        const s = sires[line][random.below(sires[line].length)];
        const d = dams[line][random.below(dams[line].length)];
        const clutch = 1 + random.below(plan.largestClutch);
        for (let k = 0; k < clutch && next < end; k++) {
          sire[next] = s;
          dam[next] = d;
          next++;
        }
      }
      births[line].push(Int32Array.from({ length: next - start }, (_, i) => start + i));
    }
    for (let line = 0; line < lines; line++) {
      const from = random.below(10) === 0 ? random.below(lines) : line;
      renew(sires[line], plan.newSires, plan.newSires * 3, births[from], 0);
      renew(dams[line], plan.newDams, plan.newDams * 4, births[line], 1);
    }
  }
  return plan.ordered ? { sire, dam } : shuffle({ sire, dam }, random.below);

  /** Young with an even position are males, the others females. */
  function renew(
    pool: number[],
    count: number,
    most: number,
    born: Int32Array[],
    sex: number,
  ): void {
    for (let k = 0; k < count; k++) {
      const year = born[Math.max(0, born.length - 1 - random.below(10))];
      if (year.length < 2) continue;
      const pick = year[random.below(year.length)];
      const chosen = pick % 2 === sex ? pick : pick === year[0] ? pick + 1 : pick - 1;
      if (!pool.includes(chosen)) pool.push(chosen);
    }
    while (pool.length > most) pool.shift();
  }
}

function shuffle({ sire, dam }: Population, below: (bound: number) => number): Population {
  const n = sire.length;
  const at = Int32Array.from({ length: n }, (_, i) => i);
  for (let i = n - 1; i > 0; i--) {
    const j = below(i + 1);
    const held = at[i];
    at[i] = at[j];
    at[j] = held;
  }
  const shuffled = { sire: new Int32Array(n), dam: new Int32Array(n) };
  for (let i = 0; i < n; i++) {
    shuffled.sire[at[i]] = sire[i] < 0 ? -1 : at[sire[i]];
    shuffled.dam[at[i]] = dam[i] < 0 ? -1 : at[dam[i]];
  }
  return shuffled;
}
