interface ManyPrograms {
  compareMany(seeds: number, mostSteps: number): { compared: number; possible: number };
}

/** Thousands of small programs of every kind against the twin that lists every world; the first difference throws. */
export async function run(): Promise<boolean> {
  // The twin stays with the library's own tests; it is built with them.
  const twin = new URL('../../../libs/inference/dist-test/against-twin.js', import.meta.url);
  const { compareMany } = (await import(twin.href)) as ManyPrograms;
  const { compared, possible } = compareMany(1200, 2000);
  console.log(
    `${compared} programs compared, ${possible} of them without contradiction: all equal to 1e-9`,
  );
  return compared > 4000 && possible > 1500;
}
