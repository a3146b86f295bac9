import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Answer, SignedIn } from './api.js';
import type { ApiDocument, Operation, Schema } from './document.js';

export type Fields = Record<string, unknown>;

/** A kind of record, by the last part of its path, such as `coils`. */
export function recordKinds(document: ApiDocument): string[] {
  return document.operations
    .filter(({ method, path }) => method === 'POST' && /^\/api\/[a-z-]+$/.test(path) && document.operation('PATCH', `${path}/x`) !== undefined)
    .map(({ path }) => path.slice('/api/'.length));
}

/** The schema and the example of the JSON body of an operation; null when it takes none. */
export function requestOf(operation: Operation): { schema: Schema; example: Fields } | null {
  const media = operation.requestBody?.content['application/json'];
  return media?.schema === undefined ? null : { schema: media.schema, example: media.example as Fields };
}

let drawn = 0;

/**
 * Records made from the request examples of the API document: references lead to records made in the same way, and an
 * id that comes twice in the examples is one record. Everything else is as in the document, but for names that must
 * differ when a kind is made again.
 */
export class ExampleRecords {
  /** Ids by kind and by the id that stands for them in the examples. */
  private readonly made = new Map<string, Map<string, string>>();

  constructor(
    private readonly document: ApiDocument,
    private readonly by: SignedIn,
    /** Has every name and number made unlike any other; without it, only what is made a second time. */
    private readonly isApart = true,
  ) {}

  /** A body for this kind that can be sent now: a new id, references to records that stand. */
  async body(kind: string, isFirst = !this.isApart): Promise<Fields> {
    const { schema, example } = this.requestFor(kind);
    const body = (await this.withReferences(schema, example)) as Fields;
    return { ...(isFirst ? body : apart(body)), id: uuidv7() };
  }

  /** Sends a new record of this kind. */
  async enter(kind: string, changes: Fields = {}, isFirst = !this.isApart): Promise<Answer> {
    return this.by.send('POST', `/api/${kind}`, { body: { ...(await this.body(kind, isFirst)), ...changes } });
  }

  /** The id of a record of this kind: of the one that `exampleId` stands for, or of any. Made when first asked for. */
  async id(kind: string, exampleId?: string): Promise<string> {
    const ofKind = this.made.get(kind) ?? new Map<string, string>();
    this.made.set(kind, ofKind);
    const known = exampleId === undefined ? [...ofKind.values()][0] : ofKind.get(exampleId);
    if (known !== undefined) return known;
    const answer = await this.enter(kind, {}, !this.isApart && ofKind.size === 0);
    expect(answer).toMatchObject({ status: 201, body: { version: 1 } });
    const id = String(answer.body['id']);
    ofKind.set(exampleId ?? this.exampleIdOf(kind), id);
    return id;
  }

  /** `value` with every id in it, but its own, replaced by that of a record that stands. */
  async withReferences(schema: Schema, value: unknown, field = ''): Promise<unknown> {
    const node = this.document.resolve(schema.anyOf?.[0] ?? schema.allOf?.[0] ?? schema);
    if (field === 'id') return uuidv7();
    // Whoever enters the first person is a person already.
    if (field === 'doneBy') return this.by.personId;
    if (node.format === 'uuid' && typeof value === 'string') return this.id(this.kindNamed(field), value);
    if (Array.isArray(value)) {
      const items = value as unknown[];
      return inOrder(items, (item) => this.withReferences(node.items ?? {}, item, field));
    }
    if (typeof value !== 'object' || value === null) return value;
    const fields = await inOrder(Object.entries(value), async ([name, part]) => [
      name, await this.withReferences(node.properties?.[name] ?? {}, part, name),
    ] as const);
    return Object.fromEntries(fields);
  }

  /** The id by which the examples of other kinds refer to this one, if any does. */
  private exampleIdOf(kind: string): string {
    for (const other of recordKinds(this.document)) {
      const entries = Object.entries(this.requestFor(other).example);
      const found = entries.find(([field, value]) => /Id$/.test(field) && typeof value === 'string' && this.kindNamed(field) === kind);
      if (found !== undefined) return String(found[1]);
    }
    return 'none';
  }

  private requestFor(kind: string): { schema: Schema; example: Fields } {
    const operation = this.document.operation('POST', `/api/${kind}`);
    const request = operation === undefined ? null : requestOf(operation);
    if (request === null) throw new Error(`there is no way to enter ${kind}`);
    return request;
  }

  /** `leavingCoilId` leads to coils, `cutOutId` to cut-outs; an id that names no kind is a person's. */
  private kindNamed(field: string): string {
    const noun = /([A-Z]?[a-z]+)Id$/.exec(field)?.[1]?.toLowerCase();
    if (noun === undefined) return 'people';
    const kind = recordKinds(this.document).find((one) => one.endsWith(`${noun}s`));
    if (kind === undefined) throw new Error(`no kind of record is meant by ${field}`);
    return kind;
  }
}

/** One after the other: records made at once would come in another order each time. */
async function inOrder<T, U>(items: readonly T[], work: (item: T) => Promise<U>): Promise<U[]> {
  const done: U[] = [];
  for (const item of items) done.push(await work(item));
  return done;
}

const NAMES = ['name', 'number', 'signInName'] as const;

function apart(body: Fields): Fields {
  drawn += 1;
  const renamed = NAMES.filter((name) => typeof body[name] === 'string').map((name) => [name, `${String(body[name])} ${drawn}`]);
  return { ...body, ...Object.fromEntries(renamed) as Fields };
}
