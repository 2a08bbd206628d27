import { readProbability } from '@scutewright/genetics';
import { z } from 'zod';
import { NOT } from './program-file/program-row.js';
import { commandIdSchema, idSchema } from './vocabulary.js';

/** Signs that the program file and the text of a rule use for themselves. */
const NAME_SIGNS = /^[^\s/|;:=,"()<>]+$/;

const locusCodeSchema = z
  .string()
  .trim()
  .min(1, 'Give the gene a short code, for example pl.')
  .max(40, 'A code has at most 40 characters.')
  .regex(NAME_SIGNS, 'A code cannot hold blanks or any of / | ; : = , " ( ) < >.')
  .meta({ description: 'Short and unique, as in the genotype column of a file: pl' });

const alleleNameSchema = z
  .string()
  .trim()
  .min(1, 'Give the allele a name, for example p.')
  .max(40, 'An allele has at most 40 characters.')
  .regex(NAME_SIGNS, 'An allele cannot hold blanks or any of / | ; : = , " ( ) < >.');

/** A chance as people type it: 0.05, 1/20. Kept as text, so that 1/3 stays exact. */
const chanceTextSchema = z
  .string()
  .trim()
  .max(60)
  .refine((text) => readProbability(text) !== null, {
    message: 'This is no chance between 0 and 1. Write 0.05 or 1/20.',
  });

export const inheritanceSchema = z.enum(['AUTOSOMAL', 'X_LINKED', 'Z_LINKED']).meta({
  id: 'Inheritance',
  description:
    'On an ordinary chromosome; on the X (males have one copy); on the Z (females have one copy)',
});
export type InheritanceName = z.infer<typeof inheritanceSchema>;

export const founderRuleSchema = z.enum(['ANY', 'ONLY', 'ALL_BUT']).meta({
  id: 'FounderRule',
  description:
    'Which founders may carry a rarer allele: any, only those named, all but those named',
});

const alleleSchema = z
  .object({
    name: alleleNameSchema,
    was: alleleNameSchema.optional().meta({
      description: 'Its name until now, where it is renamed: rules and declarations follow',
    }),
    frequency: chanceTextSchema
      .optional()
      .meta({ description: 'Share of the copies among founders: 0.05 or 1/20; all or none' }),
  })
  .meta({ id: 'AlleleInput', description: 'One form of a gene' });

const locusFields = {
  code: locusCodeSchema,
  name: z
    .string()
    .trim()
    .min(1, 'Give the gene a name, for example pale.')
    .max(120, 'A name has at most 120 characters.'),
  inheritance: inheritanceSchema,
  alleles: z
    .array(alleleSchema)
    .min(2, 'A gene has at least two forms: the common one and a rarer one.')
    .max(62, 'At most 62 forms of one gene are handled.')
    .meta({ description: 'The common one first' }),
  founderRule: founderRuleSchema,
  founderIds: z
    .array(idSchema)
    .max(2000)
    .optional()
    .meta({ description: 'The founders that the rule names' }),
};

export const addLocusSchema = z
  .object({ commandId: commandIdSchema, ...locusFields })
  .meta({ id: 'AddLocusInput', description: 'A gene of the program' });
export type AddLocusInput = z.infer<typeof addLocusSchema>;

export const editLocusSchema = z
  .object({ commandId: commandIdSchema, locusId: idSchema, ...locusFields })
  .meta({ id: 'EditLocusInput', description: 'The gene as it should be from now on, whole' });
export type EditLocusInput = z.infer<typeof editLocusSchema>;

export const removeLocusSchema = z
  .object({ commandId: commandIdSchema, locusId: idSchema })
  .meta({ id: 'RemoveLocusInput', description: 'A gene that nothing names any more' });
export type RemoveLocusInput = z.infer<typeof removeLocusSchema>;

const misreadSchema = z
  .number()
  .min(0, 'A rate is at least 0.')
  .max(0.5, 'A look that is wrong more often than every second time says nothing: at most 0.5.');

const traitFields = {
  name: z
    .string()
    .trim()
    .min(1, 'Give the trait a name, for example pale.')
    .max(120, 'A name has at most 120 characters.')
    .regex(/^[^;\n\r]+$/, 'A name cannot hold ; since lists of traits use it.')
    .refine((name) => name.toLowerCase() !== 'none', {
      message: "'none' stands for: looked at, shows no trait. Choose another name.",
    })
    .refine((name) => !name.toLowerCase().startsWith(NOT), {
      message: "'not ...' stands for: looked for and not seen. Choose another name.",
    }),
  shows: z
    .string()
    .trim()
    .min(1, 'Say which animals show it.')
    .max(4000)
    .meta({ description: 'Which animals show it, as a rule: pl = p/p and age >= 730' }),
  description: z.string().trim().max(2000, 'At most 2,000 characters.').optional(),
  misreadYoung: misreadSchema.meta({
    description: 'How often a look at an animal under two years is wrong, 0 to 0.5',
  }),
  misreadAdult: misreadSchema.meta({
    description: 'How often a look at a grown animal is wrong, 0 to 0.5',
  }),
  welfareNote: z
    .string()
    .trim()
    .max(2000, 'At most 2,000 characters.')
    .optional()
    .meta({ description: 'What is known of harm that comes with it' }),
  welfareSource: z
    .string()
    .trim()
    .max(400, 'At most 400 characters.')
    .optional()
    .meta({ description: 'Where that stands' }),
};

export const addTraitSchema = z
  .object({ commandId: commandIdSchema, ...traitFields })
  .meta({ id: 'AddTraitInput', description: 'A named look, and who shows it' });
export type AddTraitInput = z.infer<typeof addTraitSchema>;

export const editTraitSchema = z
  .object({ commandId: commandIdSchema, traitId: idSchema, ...traitFields })
  .meta({ id: 'EditTraitInput', description: 'The trait as it should be from now on, whole' });
export type EditTraitInput = z.infer<typeof editTraitSchema>;

export const removeTraitSchema = z
  .object({ commandId: commandIdSchema, traitId: idSchema })
  .meta({ id: 'RemoveTraitInput', description: 'A trait that no colour check names' });
export type RemoveTraitInput = z.infer<typeof removeTraitSchema>;

export const locusPairKindSchema = z.enum(['LINKED', 'ONE_GENE']).meta({
  id: 'LocusPairKind',
  description:
    'Passed on together, being near each other on one chromosome; or two look-alike lines that may be one gene',
});

export const setLocusPairSchema = z
  .object({
    commandId: commandIdSchema,
    firstId: idSchema,
    secondId: idSchema,
    kind: locusPairKindSchema,
    chance: chanceTextSchema.meta({
      description:
        'LINKED: the recombination fraction, 0 to 1/2. ONE_GENE: how probable that is before the records, 0 to 1',
    }),
    reason: z.string().trim().max(400, 'At most 400 characters.').optional(),
  })
  .meta({ id: 'SetLocusPairInput', description: 'How two genes lie to each other' });
export type SetLocusPairInput = z.infer<typeof setLocusPairSchema>;

export const removeLocusPairSchema = z
  .object({ commandId: commandIdSchema, pairId: idSchema })
  .meta({ id: 'RemoveLocusPairInput', description: 'Two genes that lie apart again' });
export type RemoveLocusPairInput = z.infer<typeof removeLocusPairSchema>;

export const checkTraitSchema = z
  .object({
    traitId: idSchema.optional().meta({ description: 'The trait it would replace' }),
    name: z.string().trim().max(120),
    shows: traitFields.shows,
  })
  .meta({ id: 'CheckTraitInput', description: 'A trait as it is being written' });
export type CheckTraitInput = z.infer<typeof checkTraitSchema>;
