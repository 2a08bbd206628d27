/** So long a page waits for what is only a part of its answer. */
const LONG_MS = 300;

/** The answer, or null where it takes longer (ms): the rest is told meanwhile, and the page asks again. */
export async function soon<Answer>(
  answer: Promise<Answer>,
  longMs = LONG_MS,
): Promise<Answer | null> {
  let timer: NodeJS.Timeout | undefined;
  const wait = new Promise<null>((resolve) => {
    timer = setTimeout(resolve, longMs, null);
  });
  try {
    return await Promise.race([answer, wait]);
  } finally {
    clearTimeout(timer);
  }
}
