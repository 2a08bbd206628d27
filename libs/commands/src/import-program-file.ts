import { z } from 'zod';
import { FIELDS } from './program-file/program-row.js';
import { commandIdSchema, idSchema } from './vocabulary.js';

const fieldSchema = z
  .enum(FIELDS)
  .meta({ id: 'ProgramFileField', description: 'A column of a program file' });

const dateOrderSchema = z
  .enum(['YEAR_FIRST', 'DAY_FIRST', 'MONTH_FIRST'])
  .meta({ id: 'DateOrder', description: 'Which part of a date comes first' });

const mappedColumnSchema = z
  .object({
    heading: z.string().max(300),
    field: fieldSchema.nullish(),
    unit: z
      .string()
      .max(10)
      .nullish()
      .meta({ description: 'mm, cm, in, g, kg, oz, lb; of lengths and masses' }),
  })
  .meta({ id: 'MappedColumnInput', description: 'How one column of the file is read' });

/** How somebody's file is read; what is left out is proposed by the reader. */
const wordsSchema = z
  .object({
    female: z.array(z.string().max(60)).max(40),
    male: z.array(z.string().max(60)).max(40),
    unknown: z.array(z.string().max(60)).max(40),
    none: z.array(z.string().max(60)).max(40).meta({
      description: 'Words of the traits column for: looked at, shows none',
    }),
  })
  .meta({ id: 'SpecialWordsInput', description: 'Words that stand for a sex or for no trait' });

const columnMapSchema = z
  .object({
    format: z
      .enum(['HEADINGS', 'SIX_COLUMNS'])
      .meta({
        id: 'FileFormat',
        description:
          'A table with headings, or the open pedigree convention of six columns: family, id, father, mother, sex, phenotype',
      })
      .optional(),
    encoding: z.string().max(20).optional().meta({
      description: 'utf-8, utf-16le, utf-16be or windows-1252',
    }),
    separator: z.string().length(1).optional().meta({ description: 'Between the columns' }),
    words: wordsSchema.optional(),
    isGuarded: z.boolean().optional().meta({
      description: 'Takes off the apostrophe that guards a cell against being run as a formula',
    }),
    affectedTrait: z.string().trim().max(120).nullish().meta({
      description: 'Six columns only: the trait that phenotype 2 stands for; null leaves it out',
    }),
    columns: z.array(mappedColumnSchema).max(300).optional(),
    dateOrder: dateOrderSchema.optional(),
    decimalSign: z.string().length(1).optional().meta({ description: 'A dot or a comma' }),
    twoDigitYearsFrom: z.number().int().min(1900).max(2100).nullish(),
  })
  .meta({ id: 'ColumnMapInput', description: 'How the file is read, where the proposal is wrong' });

const answerSchema = z
  .object({
    kind: z.enum(['TRAIT', 'LOCUS', 'PEN', 'SPECIES']).meta({
      id: 'AskedKind',
      description: 'What the unknown name is of',
    }),
    name: z.string().max(300),
    act: z.enum(['MAKE', 'USE', 'LEAVE_OUT']).meta({
      id: 'AnswerAct',
      description: 'Make it as proposed, take it for one that is there, or leave it out',
    }),
    use: z.string().max(300).optional().meta({ description: 'The one that is there, for USE' }),
    mode: z
      .enum(['RECESSIVE', 'DOMINANT'])
      .meta({ id: 'TraitMode', description: 'Two copies show it, or one does' })
      .optional(),
  })
  .refine(({ act, use }) => act !== 'USE' || use, {
    path: ['use'],
    message: 'Say which one it is.',
  })
  .meta({ id: 'ImportAnswerInput', description: 'What to do with a name nobody knows yet' });

const correctionSchema = z
  .object({
    line: z.number().int().min(1).meta({ description: 'As the fault says' }),
    column: z.string().max(300).meta({ description: 'As the fault says' }),
    from: z.string().max(200).meta({ description: 'The value that the fault names' }),
    to: z
      .string()
      .trim()
      .max(2000)
      .meta({ description: 'Read in its place; empty: nothing known' }),
  })
  .meta({
    id: 'CorrectionInput',
    description: 'What is read in a cell in place of what stands there',
  });

const readingFields = {
  uploadId: idSchema.meta({ description: 'What the upload answered' }),
  map: columnMapSchema.optional(),
  answers: z.array(answerSchema).max(2000).optional(),
  corrections: z.array(correctionSchema).max(2000).optional(),
};

const trustSchema = z.number().min(0).max(1).optional().meta({
  description: 'Trust put in the genotypes that the file declares, 0 to 1; 0.9 if left out',
});

/** Trust where nobody says otherwise: our guess, no source. */
export const DEFAULT_TRUST = 0.9;

export const lookAtImportSchema = z
  .object({ ...readingFields, trust: trustSchema })
  .meta({ id: 'LookAtImportInput', description: 'An uploaded file and how it is read' });
export type LookAtImportInput = z.infer<typeof lookAtImportSchema>;

export const importProgramFileSchema = z
  .object({
    commandId: commandIdSchema,
    ...readingFields,
    isDryRun: z.boolean().meta({ description: 'True looks only; false writes, all or nothing' }),
    makesProposed: z
      .boolean()
      .optional()
      .meta({ description: 'Makes all that no answer speaks of as proposed' }),
    species: z
      .string()
      .trim()
      .min(1)
      .max(120)
      .optional()
      .meta({ description: 'Species of new animals where the file names none' }),
    trust: trustSchema,
  })
  .meta({ id: 'ImportProgramFileInput', description: 'A program file to look at or to bring in' });
export type ImportProgramFileInput = z.infer<typeof importProgramFileSchema>;
