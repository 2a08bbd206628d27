import { type ArgumentMetadata, Injectable, type PipeTransform, type Type } from '@nestjs/common';
import { Args, Field, Float, ID, InputType, Int, registerEnumType } from '@nestjs/graphql';
import type { GraphQLScalarType } from 'graphql';
import { z } from 'zod';
import { UserError } from './errors.js';

// zod is the one definition of what comes in. The GraphQL input types are made from it at
// boot, from a closed subset of JSON Schema; anything outside it stops the boot.

interface JsonSchema {
  readonly $ref?: string;
  readonly $defs?: Record<string, JsonSchema>;
  readonly type?: string;
  readonly format?: string;
  readonly enum?: readonly string[];
  readonly properties?: Record<string, JsonSchema>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly anyOf?: readonly JsonSchema[];
  readonly description?: string;
}

type GraphqlType = Type<unknown> | GraphQLScalarType | object;
interface FieldShape {
  readonly type: GraphqlType;
  readonly isList: boolean;
}

const inputTypes = new Map<string, Type<unknown>>();
const enumTypes = new Map<string, Record<string, string>>();

/** The GraphQL enum of a zod enum that has a `meta({ id })`; the same object each time. */
export function enumType(schema: z.ZodType): Record<string, string> {
  const json = z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;
  const id = json.$ref?.split('/').pop();
  return registerEnum(id ?? '', json.$defs?.[id ?? ''] ?? json);
}

/** The GraphQL input type of a zod object that has a `meta({ id })`. */
export function inputType(schema: z.ZodType): Type<unknown> {
  const json = z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;
  const shape = shapeOf(json, json.$defs ?? {});
  return shape.type as Type<unknown>;
}

/** `@Input(addAnimalSchema)`: the argument `input`, typed and checked by the schema. */
export function Input(schema: z.ZodType): ParameterDecorator {
  // Made now, not when the schema is built: by then the list of input types is closed.
  const type = inputType(schema);
  return Args('input', { type: () => type }, new CheckedBy(schema));
}

@Injectable()
class CheckedBy implements PipeTransform {
  constructor(private readonly schema: z.ZodType) {}

  transform(value: unknown, metadata: ArgumentMetadata): unknown {
    return check(this.schema, value, metadata.data ?? 'input');
  }
}

/** Parses by the schema. Throws UserError with the place of the first fault and all faults in `faults`. */
export function check<Schema extends z.ZodType>(
  schema: Schema,
  value: unknown,
  root: string,
): z.output<Schema> {
  const parsed = schema.safeParse(withoutIdleNulls(schema, value));
  if (parsed.success) return parsed.data;
  const faults = parsed.error.issues.map((issue) => ({
    place: [root, ...issue.path].join('.'),
    message: issue.message,
  }));
  const error = new UserError('BAD_USER_INPUT', faults[0].message, {
    place: faults[0].place,
    remedy: 'Correct it and send it again; nothing was written.',
  });
  Object.assign(error.extensions, { faults });
  throw error;
}

/** GraphQL sends null for 'left out'; only a schema that means something by null sees it. */
function withoutIdleNulls(schema: z.ZodType, value: unknown): unknown {
  if (!(schema instanceof z.ZodObject) || typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).filter(([key, entry]) => {
      const field = schema.shape[key] as z.ZodType | undefined;
      return entry !== null || field?.safeParse(null).success;
    }),
  );
}

function shapeOf(json: JsonSchema, definitions: Record<string, JsonSchema>): FieldShape {
  if (json.$ref) {
    const id = json.$ref.split('/').pop() ?? '';
    const target = definitions[id];
    if (target.enum) return { type: registerEnum(id, target), isList: false };
    return { type: registerInput(id, target, definitions), isList: false };
  }
  const alternatives = json.anyOf?.filter((entry) => entry.type !== 'null');
  if (alternatives?.length === 1) return shapeOf(alternatives[0], definitions);
  switch (json.type) {
    case 'array':
      if (!json.items) break;
      return { type: shapeOf(json.items, definitions).type, isList: true };
    case 'string':
      return { type: json.format === 'uuid' ? ID : String, isList: false };
    case 'boolean':
      return { type: Boolean, isList: false };
    case 'integer':
      return { type: Int, isList: false };
    case 'number':
      return { type: Float, isList: false };
  }
  throw new Error(
    `No GraphQL input for ${JSON.stringify(json).slice(0, 200)}: name it by meta({ id })`,
  );
}

function registerEnum(id: string, json: JsonSchema): Record<string, string> {
  const known = enumTypes.get(id);
  if (known) return known;
  if (!id || !json.enum) throw new Error(`An enum of the API needs meta({ id }): ${id}`);
  const values = Object.fromEntries(json.enum.map((value) => [value, value]));
  registerEnumType(values, { name: id, description: json.description });
  enumTypes.set(id, values);
  return values;
}

function registerInput(
  id: string,
  json: JsonSchema,
  definitions: Record<string, JsonSchema>,
): Type<unknown> {
  const known = inputTypes.get(id);
  if (known) return known;
  const made = { [id]: class {} }[id];
  inputTypes.set(id, made);
  for (const [key, property] of Object.entries(json.properties ?? {})) {
    const { type, isList } = shapeOf(property, definitions);
    Field(() => (isList ? [type] : type) as Type<unknown>, {
      nullable: !json.required?.includes(key),
      description: describe(property, definitions),
    })(made.prototype, key);
  }
  InputType(id, { description: json.description })(made);
  return made;
}

function describe(json: JsonSchema, definitions: Record<string, JsonSchema>): string | undefined {
  if (json.description) return json.description;
  const target = json.$ref ? definitions[json.$ref.split('/').pop() ?? ''] : undefined;
  return target?.description ?? json.anyOf?.find((entry) => entry.description)?.description;
}
