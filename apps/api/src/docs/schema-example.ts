import { resolved, type SchemaNode, type Schemas } from './schema-node.js';

/** Whether an example is sent or answered: what is optional and has nothing to say is left out only when sent. */
export type Direction = 'sent' | 'answered';

/**
 * A whole example of `schema`, put together from the examples of its fields; an example a schema has of its own goes
 * before those of its parts. Null where nothing says what a value could be.
 */
export function exampleOf(schema: SchemaNode, schemas: Schemas, direction: Direction): unknown {
  if (schema.examples !== undefined) return schema.examples[0];
  const node = resolved(schema, schemas);
  if (node !== schema) return exampleOf(node, schemas, direction);
  const choice = (node.allOf ?? node.anyOf ?? node.oneOf)?.[0];
  if (choice !== undefined) return exampleOf(choice, schemas, direction);
  if (node.items !== undefined) {
    const item = exampleOf(node.items, schemas, direction);
    return Array.from({ length: Math.max(1, node.minItems ?? 1) }, () => item);
  }
  return node.properties === undefined ? null : objectExample(node, schemas, direction);
}

function objectExample(node: SchemaNode, schemas: Schemas, direction: Direction): Record<string, unknown> {
  const required = new Set(node.required);
  const fields = Object.entries(node.properties ?? {}).map(([name, part]) => [name, exampleOf(part, schemas, direction)] as const);
  return Object.fromEntries(fields.filter(([name, value]) => direction === 'answered' || value !== null || required.has(name)));
}
