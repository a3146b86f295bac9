/** A JSON schema, or a part of one, while the document is being put together. */
export interface SchemaNode {
  $ref?: string;
  type?: string | string[];
  enum?: unknown[];
  nullable?: boolean;
  example?: unknown;
  examples?: unknown[];
  required?: string[];
  minItems?: number;
  allOf?: SchemaNode[];
  anyOf?: SchemaNode[];
  oneOf?: SchemaNode[];
  items?: SchemaNode;
  properties?: Record<string, SchemaNode>;
  additionalProperties?: boolean | SchemaNode;
  writeOnly?: boolean;
  [keyword: string]: unknown;
}

/** The named schemas of a document. */
export type Schemas = Readonly<Record<string, SchemaNode>>;

/** The schema that a node leads to: itself, or the one its `$ref` names. Throws on a name that leads nowhere. */
export function resolved(node: SchemaNode, schemas: Schemas): SchemaNode {
  if (node.$ref === undefined) return node;
  const found = schemas[node.$ref.replace('#/components/schemas/', '')];
  if (found === undefined) throw new Error(`the API document names no schema ${node.$ref}`);
  return resolved(found, schemas);
}
