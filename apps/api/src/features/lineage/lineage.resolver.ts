import { Field, Float, Int, ObjectType, Parent, ResolveField, Resolver } from '@nestjs/graphql';
import { ComputePool } from '../../compute/compute-pool.js';
import { type InbreedingAnswer, KNOWN_GENERATIONS } from '../../compute/inbreeding-task.js';
import { pedigreeOf } from '../../compute/pedigree-of.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Animal } from '../animals/animal.types.js';

@ObjectType({ description: 'How inbred an animal is, and how much the figure stands on' })
export class InbreedingFinding {
  @Field(() => Float, {
    description: 'Inbreeding coefficient F, 0 to 1, expected over the possible fathers',
  })
  value: number;
  @Field(() => [Float], {
    description: 'Share of ancestral places recorded, 0 to 1: parents first, then grandparents ...',
  })
  completeness: number[];
  @Field(() => Float, { description: 'Equivalent complete generations recorded' })
  equivalentGenerations: number;
  @Field(() => String, { description: 'The finding in one sentence' }) sentence: string;
  @Field(() => [String], { description: 'What the figure takes for granted' })
  assumptions: string[];
  @Field(() => Int, { description: 'The revision it was computed at' }) revision: number;
}

@Resolver(() => Animal)
export class LineageResolver {
  private readonly answers = new WeakMap<Snapshot, Promise<InbreedingAnswer>>();

  constructor(private readonly pool: ComputePool) {}

  @ResolveField(() => InbreedingFinding)
  async inbreeding(@Parent() animal: Animal): Promise<InbreedingFinding> {
    const { snapshot, position } = animal;
    const answer = await this.answerFor(snapshot);
    const start = position * KNOWN_GENERATIONS;
    const known = [...answer.known.subarray(start, start + KNOWN_GENERATIONS)];
    const value = answer.inbreeding[position];
    return {
      value,
      completeness: known,
      equivalentGenerations: answer.equivalentGenerations[position],
      sentence: sentenceOf(value, known),
      assumptions: assumptionsOf(animal),
      revision: snapshot.revision,
    };
  }

  private answerFor(snapshot: Snapshot): Promise<InbreedingAnswer> {
    let answer = this.answers.get(snapshot);
    if (!answer) {
      const key = `${snapshot.programId} ${snapshot.revision}`;
      answer = this.pool.run('inbreeding', { key, pedigree: pedigreeOf(snapshot) });
      this.answers.set(snapshot, answer);
      answer.catch(() => this.answers.delete(snapshot));
    }
    return answer;
  }
}

function sentenceOf(value: number, known: readonly number[]): string {
  const generations = known.filter((share) => share > 0).length;
  if (generations === 0) {
    return 'Nothing is recorded of its parents, so its inbreeding is not known.';
  }
  const back = `our books go back ${generations} ${generations === 1 ? 'generation' : 'generations'}`;
  const parents = Math.round(known[0] * 100);
  const share = known[0] < 1 ? `, and of its parents ${parents} % are recorded` : '';
  if (value === 0) return `Its parents share no ancestor in our books; ${back}${share}.`;
  return `F is ${value.toFixed(3)}: about ${Math.round(value * 100)} in 100 of its genes came down twice from one ancestor; ${back}${share}.`;
}

function assumptionsOf(animal: Animal): string[] {
  const list = ['Animals whose parents are not recorded are taken as unrelated to each other.'];
  if (animal.sire.candidates.length > 1) {
    list.push('The figure is the mean over its possible fathers, by their probabilities.');
  }
  if (animal.sire.unrecorded > 0 && animal.clutch) {
    list.push('A male that nobody recorded is taken as a stranger.');
  }
  return list;
}
