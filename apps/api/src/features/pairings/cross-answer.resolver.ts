import { Parent, ResolveField, Resolver } from '@nestjs/graphql';
import { Animal } from '../animals/animal.types.js';
import { geneRow } from '../genes/genes.resolver.js';
import { GeneRow } from '../genes/genes.types.js';
import { Kin } from '../lineage/kin.js';
import { youngSentence } from '../lineage/kin-words.js';
import { KinFinding } from '../lineage/lineage.types.js';
import { crossCaveat, crossSentence } from './cross-words.js';
import { pairCautions } from './pair-cautions.js';
import { Caution, CrossAnswer, TargetOdds } from './pairings.types.js';

/** What is asked of a pair, each worked out only where it is asked for: what the young cost is known long before what they can be. */
@Resolver(() => CrossAnswer)
export class CrossAnswerResolver {
  constructor(private readonly kin: Kin) {}

  @ResolveField(() => String)
  async sentence(@Parent() { eggs, parts }: CrossAnswer): Promise<string> {
    return crossSentence((await parts.odds()).targets, eggs);
  }

  @ResolveField(() => String, {
    nullable: true,
    description: 'All or nothing, where the parents are uncertain',
  })
  async caveat(@Parent() { parts }: CrossAnswer): Promise<string | null> {
    return crossCaveat((await parts.odds()).targets);
  }

  @ResolveField(() => [TargetOdds])
  async targets(@Parent() { parts }: CrossAnswer): Promise<readonly TargetOdds[]> {
    return (await parts.odds()).targets;
  }

  @ResolveField(() => [String])
  async assumptions(@Parent() { parts }: CrossAnswer): Promise<readonly string[]> {
    return (await parts.odds()).assumptions;
  }

  @ResolveField(() => KinFinding)
  async inbreeding(@Parent() { sire: { snapshot }, parts }: CrossAnswer): Promise<KinFinding> {
    const pair = await parts.pair();
    return {
      value: pair.relatedness / 2,
      lowest: pair.lowest / 2,
      highest: pair.highest / 2,
      worst: pair.worst === null ? null : pair.worst / 2,
      isRangeExact: pair.isExact,
      sentence: youngSentence(pair),
      commonAncestors: pair.ancestors.map(({ row, contribution }) => ({
        animal: new Animal(snapshot, row),
        contribution,
      })),
    };
  }

  @ResolveField(() => [GeneRow], { description: 'What is known of the two, and why' })
  async parents(@Parent() { sire, dam, parts }: CrossAnswer): Promise<GeneRow[]> {
    const genes = await parts.genes();
    return [sire, dam].map(({ snapshot, position }) => geneRow(snapshot, genes, position));
  }

  @ResolveField(() => [Caution])
  async cautions(@Parent() { sire, dam, parts }: CrossAnswer): Promise<Caution[]> {
    const { snapshot } = sire;
    const [{ relatedness, highest }, { visible }, { equivalentGenerations }] = await Promise.all([
      parts.pair(),
      parts.odds(),
      this.kin.inbreeding(snapshot),
    ]);
    return pairCautions({
      F: relatedness / 2,
      highest: highest / 2,
      visible,
      unknownBehind: [sire, dam]
        .filter(({ position }) => equivalentGenerations[position] === 0)
        .map(({ code }) => code),
    });
  }
}
