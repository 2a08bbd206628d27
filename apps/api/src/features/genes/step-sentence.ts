import type { NextStep } from '@scutewright/inference';
import type { Snapshot } from '../../snapshot/snapshot.js';

/** What to do, and what it would tell. */
export function stepSentence(
  step: NextStep,
  names: { readonly snapshot: Snapshot; readonly animal: number; readonly trait: number },
): string {
  const { codes } = names.snapshot.animals;
  const animal = codes[names.animal];
  const { name } = names.snapshot.traits[names.trait];
  switch (step.kind) {
    case 'colour check':
      return `Look at ${animal} and write down whether it shows ${name}.`;
    case 'dna test':
      return `Have ${animal} tested for ${name}.`;
    case 'parentage test':
      return `A DNA test of parentage: which of the possible fathers of ${animal} it was also tells what it may carry.`;
    case 'test mating': {
      const mate = codes[step.animal];
      if (step.clears95 === null) {
        const left = Math.max(1, Math.round(step.residual * 100));
        return `Pair it with ${mate}: one young of the two that shows ${name} proves that it carries. Plain young alone would leave a chance of ${left} in 100, for ${mate} may not carry it either.`;
      }
      const sure = step.clears99 === null ? '' : `, ${step.clears99} bring it below 1 in 100`;
      return `Pair it with ${mate}: one young of the two that shows ${name} proves that it carries; ${step.clears95} plain young and none that shows bring the chance below 5 in 100${sure}.`;
    }
  }
}
