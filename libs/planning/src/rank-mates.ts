import { type Fault, FaultsError } from '@scutewright/basics';

/** Males and females that could be paired. Matrices are row by row: `male * females + female`. */
export interface MatesInput {
  readonly males: number;
  readonly females: number;
  /** Kinship of male and female = F of their young, in [0, 1]. */
  readonly kinship: Float64Array;
  /** Chance per fertile egg of a living young of the target, from the parents' *joint* odds, in [0, 1]. */
  readonly target: Float64Array;
  /** Expected hatching eggs of each female in the season: clutches x eggs x hatch; at least 0. */
  readonly hatchlings: Float64Array;
  /** Chance that an egg is fertile with this male, in [0, 1]. */
  readonly fertility: Float64Array;
  readonly lethalEquivalents: number;
  /** Pairings with a higher F of the young are left out; 1 leaves out none. */
  readonly highestF: number;
}

/** One pairing: positions, its value (expected healthy target hatchlings) and the parts that make it. */
export interface RankedPairing {
  readonly male: number;
  readonly female: number;
  readonly F: number;
  readonly inbreedingSurvival: number;
  readonly hatchlings: number;
  readonly target: number;
  readonly value: number;
}

/**
 * The best pairings by expected healthy target hatchlings, best first; equal values by the lower F, then by position. At most `limit` are
 * answered (all of them to a male or a female that has none else are not sought: this is a list, not a plan).
 * Throws FaultsError `BAD_MATES`. Cost: males x females, and `limit` for the list.
 */
export function rankMates(input: MatesInput, limit = 100): RankedPairing[] {
  checkMates(input);
  const { males, females, kinship, target, hatchlings, fertility } = input;
  const cost = input.lethalEquivalents / 2;
  const n = males * females;
  const value = new Float64Array(n);
  const order: number[] = [];
  for (let male = 0; male < males; male++) {
    for (let female = 0; female < females; female++) {
      const at = male * females + female;
      const F = kinship[at];
      if (F > input.highestF) continue;
      value[at] = hatchlings[female] * fertility[male] * Math.exp(-cost * F) * target[at];
      order.push(at);
    }
  }
  order.sort((a, b) => value[b] - value[a] || kinship[a] - kinship[b] || a - b);
  return order.slice(0, limit).map((at) => {
    const male = Math.floor(at / females);
    const female = at % females;
    return {
      male,
      female,
      F: kinship[at],
      inbreedingSurvival: Math.exp(-cost * kinship[at]),
      hatchlings: hatchlings[female] * fertility[male],
      target: target[at],
      value: value[at],
    };
  });
}

function checkMates(input: MatesInput): void {
  const { males, females } = input;
  const faults: Fault[] = [];
  const check = (name: keyof MatesInput, size: number, most: number): void => {
    const values = input[name] as Float64Array;
    const bad = values.findIndex((each) => !(each >= 0 && each <= most));
    if (values.length === size && bad === -1) return;
    faults.push({
      code: 'BAD_MATES',
      message:
        values.length === size
          ? `${name} number ${bad} is ${values[bad]}.`
          : `${name} has ${values.length} numbers for ${males} males and ${females} females.`,
      remedy: `Give ${size} numbers ${most === 1 ? 'from 0 to 1' : 'of at least 0'}.`,
      ids: [],
    });
  };
  check('kinship', males * females, 1);
  check('target', males * females, 1);
  check('hatchlings', females, Number.MAX_VALUE);
  check('fertility', males, 1);
  if (!Number.isFinite(input.lethalEquivalents)) {
    faults.push({
      code: 'BAD_MATES',
      message: `The lethal equivalents are ${input.lethalEquivalents}.`,
      remedy: 'Give a finite number.',
      ids: [],
    });
  }
  if (faults.length > 0) throw new FaultsError(faults);
}
