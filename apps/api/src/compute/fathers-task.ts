import { type FathersInput, type PossibleFathers, possibleFathers } from '@scutewright/housing';

/** Who may be the father of each clutch, by who was where. */
export function fathersTask(input: FathersInput): PossibleFathers[] {
  return possibleFathers(input);
}
