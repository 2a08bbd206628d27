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
const columnMapSchema = z
  .object({
    columns: z.array(mappedColumnSchema).max(300).optional(),
    dateOrder: dateOrderSchema.optional(),
    decimalSign: z.string().length(1).optional().meta({ description: 'A dot or a comma' }),
    twoDigitYearsFrom: z.number().int().min(1900).max(2100).nullish(),
  })
  .meta({ id: 'ColumnMapInput', description: 'How the file is read, where the proposal is wrong' });

export const importProgramFileSchema = z
  .object({
    commandId: commandIdSchema,
    uploadId: idSchema.meta({ description: 'What the upload answered' }),
    isDryRun: z.boolean().meta({ description: 'True looks only; false writes, all or nothing' }),
    map: columnMapSchema.optional(),
    makesProposed: z
      .boolean()
      .optional()
      .meta({ description: 'Makes the unknown genes, traits and pens as proposed' }),
    species: z
      .string()
      .trim()
      .min(1)
      .max(120)
      .optional()
      .meta({ description: 'Species of new animals where the file names none' }),
    trust: z.number().min(0).max(1).optional().meta({
      description: 'Trust put in the genotypes that the file declares, 0 to 1; 0.9 if left out',
    }),
  })
  .meta({ id: 'ImportProgramFileInput', description: 'A program file to look at or to bring in' });
export type ImportProgramFileInput = z.infer<typeof importProgramFileSchema>;
