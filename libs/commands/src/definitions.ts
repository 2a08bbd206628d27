import type { RuleInput } from '@scutewright/genetics';
import { z } from 'zod';
import { idSchema } from './vocabulary.js';

const chanceSchema = z.union([z.number().min(0).max(1), z.string().max(60)]);

/** What is kept of a locus. The kernels check it again as a whole: alleles, frequencies, inheritance. */
export const locusDefinitionSchema = z.object({
  alleles: z.array(z.string().min(1).max(40)).min(1).max(62),
  inheritance: z.enum(['autosomal', 'x-linked', 'z-linked']).default('autosomal'),
  /** By allele, in the founders; left out, nothing is known of them. */
  frequencies: z.record(z.string(), chanceSchema).optional(),
  /** Which founders may carry a rarer allele; left out, any of them. Ids of animals that are gone are passed over. */
  founders: z
    .object({ rule: z.enum(['ONLY', 'ALL_BUT']), animalIds: z.array(idSchema).max(2000) })
    .optional(),
});
export type LocusDefinition = z.infer<typeof locusDefinitionSchema>;

/** A rule over genotypes, sex and age, in the small language of libs/genetics. */
export const ruleSchema: z.ZodType<RuleInput> = z.lazy(() =>
  z.union([
    z.object({ locus: z.string().min(1), genotypes: z.array(z.string()).max(2000) }),
    z.object({ all: z.array(ruleSchema).max(100) }),
    z.object({ any: z.array(ruleSchema).max(100) }),
    z.object({ not: ruleSchema }),
    z.object({ sex: z.enum(['m', 'f']) }),
    z.object({ fromDays: z.number().min(0) }),
  ]),
);

/** What is kept of a trait: the rule that shows it, how often a look is wrong, what is known of its welfare. */
export const traitDefinitionSchema = z.object({
  when: ruleSchema,
  description: z.string().max(2000).optional(),
  /** Chance that a look at an animal of less than two years is wrong. */
  misreadYoung: z.number().min(0).max(0.5).default(0),
  misreadAdult: z.number().min(0).max(0.5).default(0),
  welfareNote: z.string().max(2000).optional(),
  welfareSource: z.string().max(400).optional(),
});
export type TraitDefinition = z.infer<typeof traitDefinitionSchema>;

/** A file of definitions, as `seed/definitions.json`. */
export const definitionsSchema = z.object({
  loci: z.array(locusDefinitionSchema.extend({ id: z.string(), name: z.string() })),
  traits: z.array(traitDefinitionSchema.extend({ name: z.string() })),
  pens: z.array(
    z.object({
      name: z.string(),
      areaM2: z.number().positive().optional(),
      isQuarantine: z.boolean().default(false),
      features: z.array(z.string()).default([]),
    }),
  ),
});
export type Definitions = z.infer<typeof definitionsSchema>;
