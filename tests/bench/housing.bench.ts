import { dayText, seededRandom } from '@scutewright/basics';
import { DEFAULT_FATHER_RULE, type FathersInput, possibleFathers } from '@scutewright/housing';

const YEAR = 365.25;

/** An invented yard: `animals` over 60 years in 40 pens, moved every three years, and `clutches` of its females. All days are exact. */
function yard(animals: number, clutches: number): FathersInput {
  const random = seededRandom(7);
  const pick = (n: number) => random.below(n);
  const last = 20_400;
  const list = Array.from({ length: animals }, (_, i) => {
    const born = last - Math.floor(random.next() * 60 * YEAR);
    return { id: `a${i}`, sex: i % 3 === 0 ? ('m' as const) : ('f' as const), born };
  });
  const stays = list.flatMap(({ id, born }) => {
    const own = [];
    for (let day = born; day < last; day += 1095) {
      own.push({
        animal: id,
        pen: `p${pick(40)}`,
        from: dayText(day),
        to: dayText(Math.min(last, day + 1095)),
      });
    }
    return own;
  });
  const dams = list.filter(({ sex, born }) => sex === 'f' && born < last - 15 * YEAR);
  return {
    rule: DEFAULT_FATHER_RULE,
    animals: list.map(({ id, sex, born }) => {
      const mature = dayText(Math.round(born + 8 * YEAR));
      return { id, sex, mature_from: [mature, mature] as const };
    }),
    stays,
    clutches: Array.from({ length: clutches }, (_, c) => {
      const dam = dams[pick(dams.length)];
      const from = dam.born + 14 * YEAR;
      return {
        id: `c${c}`,
        laid: dayText(Math.floor(from + random.next() * (last - from))),
        dams: [{ id: dam.id, probability: 1 }],
      };
    }),
  };
}

/** The same by the rule's words alone, over every stay of the yard for every clutch; independent of the library. */
function naively(input: FathersInput, c: number): Map<string, number> {
  const day = (text: string | null) => Date.parse(text!) / 86_400_000;
  const { laid, dams } = input.clutches[c];
  const end = day(laid);
  const date = new Date(end * 86_400_000);
  const start =
    Date.UTC(
      date.getUTCFullYear() - input.rule.storageYears,
      date.getUTCMonth(),
      date.getUTCDate(),
    ) / 86_400_000;
  const males = new Map(
    input.animals
      .filter(({ sex }) => sex === 'm')
      .map((animal) => [animal.id, day(animal.mature_from![0])]),
  );
  const own = input.stays.filter(({ animal }) => animal === dams[0].id);
  const half = YEAR * input.rule.recencyHalfYears;
  const weigh = (from: number, to: number) =>
    (half / Math.LN2) * (0.5 ** ((end - to) / half) - 0.5 ** ((end - from) / half));
  const weights = new Map<string, number>();
  for (const stay of input.stays) {
    const mature = males.get(stay.animal);
    if (mature === undefined) continue;
    for (const hers of own) {
      if (hers.pen !== stay.pen) continue;
      const from = Math.max(day(stay.from), day(hers.from), start, mature);
      const to = Math.min(day(stay.to), day(hers.to), end);
      if (from < to) weights.set(stay.animal, (weights.get(stay.animal) ?? 0) + weigh(from, to));
    }
  }
  return weights;
}

export function run(): void {
  console.log(
    'Possible fathers of all clutches (60 years, 40 pens), against the rule told over every stay',
  );
  console.log(
    '| animals | stays | clutches | ms | by every stay ms | ratio | largest difference of shares |',
  );
  console.log('|---|---|---|---|---|---|---|');
  for (const [animals, clutches] of [
    [300, 200],
    [5000, 2000],
  ]) {
    const input = yard(animals, clutches);
    const start = performance.now();
    const found = possibleFathers(input);
    const ms = performance.now() - start;
    const sample = Math.min(clutches, 20);
    const before = performance.now();
    let difference = 0;
    for (let c = 0; c < sample; c++) {
      const weights = naively(input, c);
      const total = [...weights.values()].reduce((a, b) => a + b, 0);
      const named = found[c].fathers.reduce((sum, { probability }) => sum + probability, 0);
      for (const { id, probability } of found[c].fathers) {
        difference = Math.max(
          difference,
          Math.abs(probability / named - (weights.get(id) ?? 0) / total),
        );
      }
    }
    const naive = ((performance.now() - before) * clutches) / sample;
    console.log(
      `| ${animals} | ${input.stays.length} | ${clutches} | ${ms.toFixed(0)} | ${naive.toFixed(0)} (from ${sample}) | ${(ms / naive).toFixed(3)} | ${difference.toExponential(1)} |`,
    );
  }
}
