import { Ajv2020 } from 'ajv/dist/2020.js';
import type { AnyValidateFunction } from 'ajv/dist/types/index.js';
import addFormats from 'ajv-formats';

/** A JSON schema as the API document has it. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly format?: string;
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly allOf?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly 'x-minimum'?: number;
  readonly 'x-maximum'?: number;
}

export interface Media {
  readonly schema?: Schema;
  readonly example?: unknown;
}

export interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query' | 'header';
  readonly required?: boolean;
  readonly description?: string;
  readonly schema?: Schema;
}

/** An operation with where it stands. */
export interface Operation {
  readonly method: string;
  readonly path: string;
  readonly operationId: string;
  readonly summary?: string;
  readonly tags?: readonly string[];
  readonly security?: readonly object[];
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly required?: boolean; readonly content: Readonly<Record<string, Media>> };
  readonly responses: Readonly<Record<string, { readonly description: string; readonly content?: Readonly<Record<string, Media>> }>>;
}

interface DocumentText {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Omit<Operation, 'method' | 'path'>>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

const JSON_TYPES = ['application/json', 'application/problem+json'] as const;

/** The API document, its operations found by request, and its schemas compiled when first needed. */
export class ApiDocument {
  readonly operations: readonly Operation[];
  private readonly text: DocumentText;
  private readonly ajv: Ajv2020;
  private readonly compiled = new Map<string, AnyValidateFunction>();
  private readonly forms: readonly { readonly form: RegExp; readonly operation: Operation }[];

  constructor(text: unknown) {
    this.text = text as DocumentText;
    this.operations = Object.entries(this.text.paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, operation]) => ({ ...operation, method: method.toUpperCase(), path })),
    );
    // Without variable parts first: /batch is no id.
    this.forms = this.operations
      .map((operation) => ({ form: formOf(operation.path), operation }))
      .sort((a, b) => a.operation.path.split('{').length - b.operation.path.split('{').length);
    this.ajv = new Ajv2020({ allErrors: true, strict: true, strictTypes: false, allowUnionTypes: true });
    addFormats.default(this.ajv);
    this.ajv.addVocabulary(['x-minimum', 'x-maximum', 'x-unit']);
    this.ajv.addKeyword({ keyword: ['openapi', 'info', 'tags', 'servers', 'components', 'paths'] });
    this.ajv.addSchema({ ...this.text, $id: 'document' });
  }

  /** The operation that serves `method` on `path` (without its query), or undefined. */
  operation(method: string, path: string): Operation | undefined {
    return this.forms.find(({ form, operation }) => operation.method === method && form.test(path))?.operation;
  }

  /** The schema that a `$ref` leads to, or the schema itself. */
  resolve(schema: Schema): Schema {
    if (schema.$ref === undefined) return schema;
    const found = this.text.components.schemas[schema.$ref.split('/').at(-1) ?? ''];
    if (found === undefined) throw new Error(`the document has no ${schema.$ref}`);
    return found;
  }

  /** What is wrong with the JSON body that `operation` takes; empty when nothing is. */
  requestFaults(operation: Operation, body: unknown): string[] {
    const { schema } = operation.requestBody?.content['application/json'] ?? {};
    return this.faults(schema, pointerTo(operation, ['requestBody', 'content', 'application/json', 'schema']), body);
  }

  /** What is untrue of an answer by the document: its status, its type, its fields. Empty when nothing is. */
  answerFaults(operation: Operation, status: number, type: string | undefined, body: unknown): string[] {
    const key = String(status) in operation.responses ? String(status) : 'default';
    if (key === 'default' && status < 400) return [`status ${status} is not documented`];
    const content = operation.responses[key]?.content;
    if (content === undefined) return body === '' ? [] : [`status ${status} is documented without a body`];
    const sent = (type ?? '').split(';')[0] ?? '';
    if (!(sent in content)) return [`type ${sent} of status ${status} is not documented`];
    if (!JSON_TYPES.some((known) => known === sent)) return [];
    return this.faults(content[sent]?.schema, pointerTo(operation, ['responses', key, 'content', sent, 'schema']), body);
  }

  /** What is untrue of a refusal that belongs to no operation. */
  problemFaults(body: unknown): string[] {
    return this.faults({ $ref: '#/components/schemas/Problem' }, '', body);
  }

  private faults(schema: Schema | undefined, pointer: string, value: unknown): string[] {
    // A named schema is compiled once, however many operations use it.
    const key = schema?.$ref ?? pointer;
    const validate = this.compiled.get(key) ?? this.ajv.getSchema(`document${key}`);
    if (validate === undefined) throw new Error(`the document has no ${key}`);
    this.compiled.set(key, validate);
    if (validate(value)) return [];
    return (validate.errors ?? []).map(({ instancePath, message, params }) => `${instancePath} ${message ?? ''} ${JSON.stringify(params)}`);
  }
}

function pointerTo({ path, method }: Operation, parts: readonly string[]): string {
  const all = ['paths', path, method.toLowerCase(), ...parts];
  return `#/${all.map((part) => encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1'))).join('/')}`;
}

const formOf = (path: string): RegExp =>
  new RegExp(`^${path.split('/').map((part) => (part.startsWith('{') ? '[^/]+' : part.replaceAll('.', String.raw`\.`))).join('/')}$`);
