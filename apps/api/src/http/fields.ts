import { applyDecorators } from '@nestjs/common';
import { ApiProperty, type ApiPropertyOptions } from '@nestjs/swagger';
import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, IsArray, ValidateBy, ValidateIf, ValidateNested } from 'class-validator';
import { isInstant } from '#libs/persistence';

/**
 * The fields of requests and answers. One decorator a field says what is taken, what the refusal tells as the limit,
 * and what the API document shows: none of the three can drift from the others.
 */
export interface FieldOptions {
  readonly description: string;
  /** A true value of the demo well. */
  readonly example: unknown;
  /** Absent and null mean the same for an optional field. */
  readonly optional?: boolean;
}

interface Rule {
  readonly name: string;
  readonly limit: string;
  readonly test: (value: unknown) => boolean;
  readonly schema: ApiPropertyOptions;
}

const present = (_: object, value: unknown): boolean => value !== undefined && value !== null;

function documented(options: FieldOptions, schema: ApiPropertyOptions): PropertyDecorator {
  const { description, example, optional = false } = options;
  return ApiProperty({
    ...schema,
    description,
    example,
    required: !optional,
    ...(optional ? { nullable: true } : {}),
  } as ApiPropertyOptions);
}

function optionally(options: FieldOptions): PropertyDecorator[] {
  return options.optional === true ? [ValidateIf(present)] : [];
}

function field(options: FieldOptions, rule: Rule): PropertyDecorator {
  const check = ValidateBy(
    { name: rule.name, validator: { validate: rule.test, defaultMessage: () => rule.limit } },
    { context: { limit: rule.limit } },
  );
  return applyDecorators(check, ...optionally(options), documented(options, rule.schema));
}

/** Control characters, and the marks that turn the direction of the text around them, never belong in a record. */
const UNPRINTABLE = /(?![\t\n\r])[\p{Cc}\p{Bidi_Control}]/u;

/** True for well-formed text of `min` to `max` UTF-16 units with something other than blanks, all of it printable. */
export function isPrintable(value: unknown, min: number, max: number): value is string {
  return (
    typeof value === 'string' && value.length >= min && value.length <= max && value.trim() !== '' &&
    value.isWellFormed() && !UNPRINTABLE.test(value)
  );
}

/** Text of 1 to `max` printable characters. */
export const Text = (options: FieldOptions & { max: number; min?: number }): PropertyDecorator => {
  const { max, min = 1 } = options;
  return field(options, {
    name: 'text',
    limit: `text of ${min} to ${max} printable characters`,
    test: (value) => isPrintable(value, min, max),
    schema: { type: 'string', minLength: min, maxLength: max },
  });
};

/** One of a closed list of words. */
export const Choice = (options: FieldOptions & { of: readonly string[] }): PropertyDecorator =>
  field(options, {
    name: 'choice',
    limit: `one of ${options.of.join(', ')}`,
    test: (value) => typeof value === 'string' && options.of.includes(value),
    schema: { type: 'string', enum: [...options.of] },
  });

/** Several of a closed list of words. */
export const Choices = (options: FieldOptions & { of: readonly string[]; max: number }): PropertyDecorator =>
  field(options, {
    name: 'choices',
    limit: `a list of at most ${options.max} of ${options.of.join(', ')}`,
    test: (value) => Array.isArray(value) && value.length <= options.max && value.every((v) => options.of.includes(v as string)),
    schema: { type: 'array', items: { type: 'string', enum: [...options.of] }, maxItems: options.max },
  });

/** A list of texts. */
export const Texts = (options: FieldOptions & { min?: number; max: number; each: number }): PropertyDecorator => {
  const { min = 0, max, each } = options;
  return field(options, {
    name: 'texts',
    limit: `a list of ${min === 0 ? 'at most' : `${min} to`} ${max} texts of 1 to ${each} printable characters`,
    test: (value) => Array.isArray(value) && value.length >= min && value.length <= max && value.every((v) => isPrintable(v, 1, each)),
    schema: { type: 'array', items: { type: 'string', minLength: 1, maxLength: each }, ...(min === 0 ? {} : { minItems: min }), maxItems: max },
  });
};

const SHORT_NAME = /^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$/;

/** A name as devices and file headings carry it: letters, digits, `_`, `.` and `-`. */
export const ShortName = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'shortName',
    limit: 'a name of 1 to 40 letters, digits, _ . and -, the first a letter or digit',
    test: (value) => typeof value === 'string' && SHORT_NAME.test(value),
    schema: { type: 'string', pattern: SHORT_NAME.source },
  });

const ITEM_CODE = /^[A-Z0-9][A-Z0-9.-]{0,19}$/;

/** A code by which a plan names one of its items. */
export const ItemCode = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'itemCode',
    limit: 'a code of 1 to 20 capital letters, digits, . and -, the first a letter or digit',
    test: (value) => typeof value === 'string' && ITEM_CODE.test(value),
    schema: { type: 'string', pattern: ITEM_CODE.source },
  });

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

/** True for a UUID in lower case. */
export const isUuid = (value: unknown): value is string => typeof value === 'string' && UUID.test(value);

/** The id of a record. */
export const Id = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'id',
    limit: 'a UUID in lower case',
    test: isUuid,
    schema: { type: 'string', format: 'uuid' },
  });

/** The ids of several records. */
export const Ids = (options: FieldOptions & { min?: number; max: number }): PropertyDecorator => {
  const { min = 0, max } = options;
  return field(options, {
    name: 'ids',
    limit: `a list of ${min} to ${max} UUIDs in lower case`,
    test: (value) => Array.isArray(value) && value.length >= min && value.length <= max && value.every(isUuid),
    schema: { type: 'array', items: { type: 'string', format: 'uuid' }, minItems: min, maxItems: max },
  });
};

const SHA256 = /^[0-9a-f]{64}$/;

/** True for a SHA-256 in lower-case hexadecimal. */
export const isSha256 = (value: unknown): value is string => typeof value === 'string' && SHA256.test(value);

/** A SHA-256. */
export const Sha256 = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'sha256',
    limit: 'a SHA-256: 64 hexadecimal digits in lower case',
    test: isSha256,
    schema: { type: 'string', pattern: SHA256.source },
  });

const EARLIEST = Date.parse('1900-01-01T00:00:00Z');
const LATEST = Date.parse('2200-01-01T00:00:00Z');

/** True for an instant of the years 1900 to 2199. */
export const isWorkingInstant = (value: unknown): value is string =>
  typeof value === 'string' && isInstant(value) && Date.parse(value) >= EARLIEST && Date.parse(value) < LATEST;

/** An instant with its offset from UTC. */
export const When = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'instant',
    limit: 'an instant with an offset, such as 2026-03-01T07:15:00Z, at most to the microsecond, 1900 to 2199',
    test: isWorkingInstant,
    schema: { type: 'string', format: 'date-time' },
  });

/** A calendar day. */
export const Day = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'day',
    limit: 'a day such as 2026-03-01, 1900 to 2199',
    test: (value) => typeof value === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(value) && isWorkingInstant(`${value}T00:00:00Z`),
    schema: { type: 'string', format: 'date' },
  });

const TIME_ZONE = /^[A-Za-z][A-Za-z0-9_+/-]{1,59}$/;

/** True for a time zone that the time zone database knows by this name. */
export function isTimeZone(value: unknown): value is string {
  if (typeof value !== 'string' || !TIME_ZONE.test(value)) return false;
  try {
    return new Intl.DateTimeFormat('en', { timeZone: value }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** A time zone. */
export const TimeZone = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'timeZone',
    limit: 'a time zone such as UTC or Etc/GMT-1',
    test: isTimeZone,
    schema: { type: 'string', pattern: TIME_ZONE.source },
  });

const DECIMAL = /^-?\d{1,12}(\.\d{1,9})?$/;

/** A measured value with its digits as read: decimal text from `min` to `max`. */
export const Measured = (options: FieldOptions & { min: number; max: number; unit: string }): PropertyDecorator =>
  field(options, {
    name: 'measured',
    limit: `a decimal number as text, ${options.min} to ${options.max} ${options.unit}, at most 9 decimals`,
    test: (value) =>
      typeof value === 'string' && DECIMAL.test(value) && Number(value) >= options.min && Number(value) <= options.max,
    // JSON Schema has no bounds for numbers in text, so they go under names of our own.
    schema: {
      type: 'string', pattern: DECIMAL.source, 'x-minimum': options.min, 'x-maximum': options.max, 'x-unit': options.unit,
    } as ApiPropertyOptions,
  });

/** Several measured values, each with its digits as read. */
export const Measureds = (options: FieldOptions & { min: number; max: number; unit: string; most: number }): PropertyDecorator => {
  const { min, max, unit, most } = options;
  return field(options, {
    name: 'measuredList',
    limit: `a list of at most ${most} decimal numbers as text, ${min} to ${max} ${unit}, at most 9 decimals`,
    test: (value) => Array.isArray(value) && value.length <= most && value.every((one) => typeof one === 'string' && DECIMAL.test(one) && Number(one) >= min && Number(one) <= max),
    schema: { type: 'array', items: { type: 'string', pattern: DECIMAL.source }, maxItems: most },
  });
};

/** A whole number. */
export const Whole = (options: FieldOptions & { min: number; max: number; unit: string }): PropertyDecorator =>
  field(options, {
    name: 'whole',
    limit: `a whole number, ${options.min} to ${options.max} ${options.unit}`,
    test: (value) => Number.isSafeInteger(value) && (value as number) >= options.min && (value as number) <= options.max,
    schema: { type: 'integer', minimum: options.min, maximum: options.max },
  });

/** A computed number of an answer. */
export const Computed = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'number',
    limit: 'a number',
    test: (value) => typeof value === 'number' && Number.isFinite(value),
    schema: { type: 'number' },
  });

/** A list of computed numbers of an answer, null where there is none. */
export const Figures = (options: FieldOptions & { max: number }): PropertyDecorator =>
  field(options, {
    name: 'numbers',
    limit: `a list of at most ${options.max} numbers or nulls`,
    test: (value) => Array.isArray(value) && value.length <= options.max && value.every((one) => one === null || Number.isFinite(one)),
    schema: { type: 'array', maxItems: options.max, items: { type: ['number', 'null'] } } as unknown as ApiPropertyOptions,
  });

/** Anything JSON can say, in an answer. */
export const Anything = (options: FieldOptions): PropertyDecorator =>
  documented(options, { type: 'object', additionalProperties: true, 'x-any': true } as ApiPropertyOptions);

/** True or false. */
export const YesNo = (options: FieldOptions): PropertyDecorator =>
  field(options, {
    name: 'boolean',
    limit: 'true or false',
    test: (value) => typeof value === 'boolean',
    schema: { type: 'boolean' },
  });

/** The example of an object is put together from those of its fields, unless those do not fit together. */
type PartOptions = Omit<FieldOptions, 'example'> & { of: () => new () => object; example?: unknown };

/** An object with fields of its own. */
export const Part = (options: PartOptions): PropertyDecorator =>
  applyDecorators(
    ValidateNested({ context: { limit: 'an object' } }),
    ValidateBy(
      { name: 'object', validator: { validate: isPlain, defaultMessage: () => 'an object' } },
      { context: { limit: 'an object' } },
    ),
    Type(options.of),
    ...optionally({ ...options, example: undefined }),
    ApiProperty({
      // Swagger takes a function for a lazy type only when it is named `type`.
      type: () => options.of(),
      description: options.description,
      required: options.optional !== true,
      ...('example' in options ? { example: options.example } : {}),
      ...(options.optional === true ? { nullable: true } : {}),
    }),
  );

/** A list of objects with fields of their own. */
export const Parts = (options: PartOptions & { min?: number; max: number }): PropertyDecorator => {
  const { min = 0, max } = options;
  const context = { limit: `a list of ${min} to ${max} objects` };
  return applyDecorators(
    ValidateNested({ each: true, context }),
    ValidateBy(
      {
        name: 'objects',
        validator: { validate: (value) => Array.isArray(value) && value.every(isPlain), defaultMessage: () => context.limit },
      },
      { context },
    ),
    IsArray({ context }),
    ArrayMinSize(min, { context }),
    ArrayMaxSize(max, { context }),
    Type(options.of),
    ...optionally({ ...options, example: undefined }),
    ApiProperty({
      // Swagger takes a function for a lazy type only when it is named `type`.
      type: () => options.of(),
      isArray: true,
      minItems: min,
      maxItems: max,
      description: options.description,
      required: options.optional !== true,
      ...('example' in options ? { example: options.example } : {}),
      ...(options.optional === true ? { nullable: true } : {}),
    }),
  );
};

const isPlain = (value: unknown): boolean => typeof value === 'object' && value !== null && !Array.isArray(value);
