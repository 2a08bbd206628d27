/** The answer, or null where it takes longer than `ms`. */
export async function soon<Answer>(answer: Promise<Answer>, ms: number): Promise<Answer | null> {
  let timer: NodeJS.Timeout | undefined;
  const wait = new Promise<null>((resolve) => {
    timer = setTimeout(resolve, ms, null);
  });
  try {
    return await Promise.race([answer, wait]);
  } finally {
    clearTimeout(timer);
  }
}
