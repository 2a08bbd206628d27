export const MOST_EGGS = 60;
const EGGS = 12;

/** The eggs of a clutch that an address asks for; 12 where it asks for none or for nonsense. */
export function eggsOf(params: URLSearchParams): number {
  const asked = Number(params.get('eggs') ?? EGGS);
  return Number.isInteger(asked) && asked >= 1 && asked <= MOST_EGGS ? asked : EGGS;
}
