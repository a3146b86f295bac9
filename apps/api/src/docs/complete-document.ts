import type { OpenAPIObject } from '@nestjs/swagger';
import { toJsonSchema } from './json-schema.js';
import { exampleOf, type Direction } from './schema-example.js';
import { resolved, type SchemaNode, type Schemas } from './schema-node.js';

interface Media {
  schema?: SchemaNode;
  example?: unknown;
  examples?: unknown;
}

interface Answer {
  description?: string;
  content?: Record<string, Media>;
}

interface Parameter {
  in: string;
  required?: boolean;
  example?: unknown;
  schema?: SchemaNode;
}

export interface Operation {
  operationId: string;
  tags?: string[];
  security?: Record<string, string[]>[];
  parameters?: Parameter[];
  requestBody?: { content: Record<string, Media> };
  responses: Record<string, Answer>;
}

/** What the answers of these operations say that a record just entered does not. */
const SECOND_VERSION: Readonly<Record<string, object>> = {
  amend: { version: 2, reason: 'Gauge read again in good light.' },
  void: { version: 2, reason: 'Entered twice: see splice S-3.', state: 'void' },
};

/**
 * Adds, in place, what follows from the fields alone: schemas as JSON Schema 2020-12, the fields an amendment takes,
 * types of parameters, and an example of every body.
 */
export function completeDocument(document: OpenAPIObject): void {
  const schemas = (document.components?.schemas ?? {}) as Schemas;
  for (const schema of Object.values(schemas)) toJsonSchema(schema);
  for (const operation of operationsOf(document)) {
    for (const parameter of operation.parameters ?? []) completeParameter(parameter);
    for (const media of Object.values(operation.requestBody?.content ?? {})) completeMedia(media, schemas, 'sent');
    for (const media of Object.values(operation.responses).flatMap(({ content }) => Object.values(content ?? {}))) {
      completeMedia(media, schemas, 'answered');
    }
    overlaySecondVersion(operation);
  }
}

/** All operations of a document. */
export function operationsOf(document: OpenAPIObject): Operation[] {
  const methods = ['get', 'put', 'post', 'patch', 'delete'] as const;
  return Object.values(document.paths).flatMap((path) =>
    methods.flatMap((method) => {
      const operation = path[method];
      return operation === undefined ? [] : [operation as unknown as Operation];
    }),
  );
}

/** Everything in a path, a query or a header is text unless it says otherwise. */
function completeParameter(parameter: Parameter): void {
  const schema = (parameter.schema ??= {});
  toJsonSchema(schema);
  schema.type ??= 'string';
}

function completeMedia(media: Media, schemas: Schemas, direction: Direction): void {
  if (media.schema === undefined) return;
  toJsonSchema(media.schema);
  const amended = media.schema['x-amends'];
  if (typeof amended === 'string') addAmendable(media.schema, resolved({ $ref: amended }, schemas));
  if (media.example === undefined && media.examples === undefined) media.example = exampleOf(media.schema, schemas, direction);
}

/** An amendment takes every field of its record, and needs none of them; a record keeps its id and its string. */
function addAmendable(amendment: SchemaNode, input: SchemaNode): void {
  delete amendment['x-amends'];
  const fields = Object.entries(input.properties ?? {}).filter(([, field]) => field.writeOnly !== true);
  amendment.properties = { ...Object.fromEntries(fields), ...amendment.properties };
  amendment.additionalProperties = false;
  amendment.examples ??= [exampleOf({ ...amendment, properties: { reason: amendment.properties['reason'] ?? {} } }, {}, 'sent')];
}

function overlaySecondVersion({ operationId, responses }: Operation): void {
  const overlay = SECOND_VERSION[operationId.split('_').at(-1) ?? ''];
  const media = responses['200']?.content?.['application/json'];
  if (overlay !== undefined && media !== undefined) media.example = { ...(media.example as object), ...overlay };
}
