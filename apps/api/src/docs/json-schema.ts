import type { SchemaNode } from './schema-node.js';

/**
 * Puts a schema, in place, from the form of OpenAPI 3.0 into that of 3.1, which is JSON Schema 2020-12: `nullable`
 * becomes a type of its own and `example` a list. An object takes no field beside those it names unless it says so.
 */
export function toJsonSchema(node: SchemaNode): void {
  for (const part of partsOf(node)) toJsonSchema(part);
  if ('example' in node) {
    node.examples = [node.example];
    delete node.example;
  }
  if (node['x-any'] === true) dropType(node);
  else if (node.nullable === true) addNull(node);
  delete node.nullable;
  if (node.properties !== undefined) node.additionalProperties ??= false;
}

/** A reference beside a type says the same twice, and would keep null out. */
function addNull(node: SchemaNode): void {
  const { allOf, type } = node;
  if (allOf !== undefined) {
    delete node.type;
    delete node.allOf;
    node.anyOf = [...allOf, { type: 'null' }];
  } else if (typeof type === 'string') {
    node.type = [type, 'null'];
    if (node.enum !== undefined) node.enum = [...node.enum, null];
  }
}

function dropType(node: SchemaNode): void {
  delete node.type;
  delete node['x-any'];
}

function partsOf(node: SchemaNode): SchemaNode[] {
  const { items, properties = {}, allOf = [], anyOf = [], oneOf = [] } = node;
  return [...(items === undefined ? [] : [items]), ...Object.values(properties), ...allOf, ...anyOf, ...oneOf];
}
