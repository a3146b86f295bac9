import fc, { type Arbitrary } from 'fast-check';
import type { SendOptions } from './api.js';
import type { ApiDocument, Operation, Schema } from './document.js';
import type { Fields } from './example-records.js';

/** Any JSON value without a key that is refused for what it reaches into: that is a fault of its own. */
const harmlessValue = fc.jsonValue().filter((value) => !/"(__proto__|constructor|prototype)"/.test(JSON.stringify(value)));

/** A request that must be refused. */
export interface BadRequest {
  /** What is wrong with it. */
  readonly fault: string;
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: unknown;
  /** The field that the refusal must name. */
  readonly field?: string;
}

/** An operation with a request of it that is right: each bad request is that one with a single fault. */
export interface Target {
  readonly operation: Operation;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Fields | null;
  readonly schema: Schema | null;
  /** The bytes of a file, for an operation that takes one in place of a body with fields. */
  readonly bytes?: SendOptions;
}

/** Draws a value of an arbitrary. */
type Draw = <T>(arbitrary: Arbitrary<T>) => T;
type Fault = (target: Target, draw: Draw, document: ApiDocument) => Partial<BadRequest> | null;

/** A value somewhere in a body, with what the document says of it. */
interface Place {
  readonly path: readonly (string | number)[];
  readonly schema: Schema;
  readonly isRequired: boolean;
}

const JSON_TYPE = { 'content-type': 'application/json' };

/** A list written as `stations[1].mdM`, as problems name fields. */
const nameOf = (path: readonly (string | number)[]): string =>
  path.reduce<string>((name, part) => (typeof part === 'number' ? `${name}[${part}]` : name === '' ? part : `${name}.${part}`), '');

function placesIn(schema: Schema, value: unknown, document: ApiDocument, path: Place['path'] = [], isRequired = true): Place[] {
  const node = document.resolve(schema.anyOf?.[0] ?? schema.allOf?.[0] ?? schema);
  const own = path.length === 0 ? [] : [{ path, schema: node, isRequired }];
  if (Array.isArray(value)) {
    const items = value as unknown[];
    return [...own, ...items.flatMap((item, index) => placesIn(node.items ?? {}, item, document, [...path, index]))];
  }
  if (typeof value !== 'object' || value === null) return own;
  const inner = Object.entries(value).flatMap(([name, part]) => {
    const field = node.properties?.[name];
    return field === undefined ? [] : placesIn(field, part, document, [...path, name], node.required?.includes(name) ?? false);
  });
  return [...own, ...inner];
}

/** `body` with `value` at `path`; the field is taken away where `value` is undefined. */
function withValue(body: unknown, [part, ...rest]: readonly (string | number)[], value: unknown): unknown {
  if (part === undefined) return value;
  if (Array.isArray(body)) return body.map((item: unknown, index) => (index === part ? withValue(item, rest, value) : item));
  const fields = body as Fields;
  return { ...fields, [part]: withValue(fields[part], rest, value) };
}

const typesOf = ({ type }: Schema): readonly string[] => (typeof type === 'string' ? [type] : (type ?? []));

function changed(target: Target, draw: Draw, document: ApiDocument, fits: (place: Place) => boolean, value: (place: Place) => unknown): Partial<BadRequest> | null {
  if (target.body === null || target.schema === null) return null;
  const places = placesIn(target.schema, target.body, document).filter(fits);
  if (places.length === 0) return null;
  const place = draw(fc.constantFrom(...places));
  return { body: withValue(target.body, place.path, value(place)), field: nameOf(place.path) };
}

const OF_TYPE: Readonly<Record<string, Arbitrary<unknown>>> = {
  string: fc.string({ minLength: 1, maxLength: 8 }),
  number: fc.double({ noNaN: true, noDefaultInfinity: true }),
  boolean: fc.boolean(),
  object: fc.constantFrom({}, { value: 1 }, { length: 1 }),
  array: fc.constantFrom([], [1], ['a'], [[]], [null]),
};

function otherType({ schema }: Place, draw: Draw): unknown {
  const taken = schema.properties === undefined ? typesOf(schema) : ['object'];
  const isNumber = taken.includes('integer') || taken.includes('number');
  const others = Object.keys(OF_TYPE).filter((type) => !taken.includes(type) && !(isNumber && type === 'number'));
  return draw(OF_TYPE[draw(fc.constantFrom(...others))] ?? fc.constant(null));
}

/** Values one step outside what the schema allows. */
function beyond(schema: Schema): unknown[] {
  const { minimum, maximum, maxLength, minLength, maxItems, minItems, format, enum: words, 'x-minimum': least, 'x-maximum': most } = schema;
  return [
    ...(minimum === undefined ? [] : [minimum - 1, minimum + 0.5, -9007199254740992]),
    ...(maximum === undefined ? [] : [maximum + 1, maximum - 0.5, 9007199254740992, 1e308]),
    ...(maxLength === undefined || format !== undefined ? [] : ['x'.repeat(maxLength + 1), 'x'.repeat(maxLength * 10)]),
    ...(minLength === undefined || minLength < 1 ? [] : ['', ' '.repeat(minLength)]),
    ...(maxItems === undefined || maxItems > 200 ? [] : [Array.from({ length: maxItems + 1 }, () => ({}))]),
    ...(minItems === undefined || minItems === 0 ? [] : [[]]),
    ...(least === undefined ? [] : [String(least - 1), `${least - 0.000001}`.includes('e') ? '-1000000000000' : String(least - 0.000001), 'NaN', '-Infinity', '1,5', '0x10', '1e3', '']),
    ...(most === undefined ? [] : [String(most + 1), '9'.repeat(13), '1.0000000001', ' 1', '+1', '٣']),
    ...(words === undefined ? [] : ['unknown', '', `${String(words[0])} `, String(words[0]).toUpperCase()]).filter((word) => words?.includes(word) !== true),
    ...(format === 'uuid' ? ['', 'x', '0197A2C4-5B00-7D31-9C11-3A5D0E7F1B01', '0197a2c45b007d319c113a5d0e7f1b01', '0197a2c4-5b00-9d31-9c11-3a5d0e7f1b01'] : []),
    ...(format === 'date-time' ? ['2026-02-30T00:00:00Z', '2026-03-02T08:15:00', '2026-03-02', '1899-12-31T23:59:59Z', '2200-01-01T00:00:00Z', '2026-03-02T25:00:00Z', '2026-03-02T08:15:00.1234567Z', 'now'] : []),
    ...(format === 'date' ? ['2026-02-30', '2026-3-2', '1899-12-31', '2200-01-01', '20260302', 'today', '2026-03-02T00:00:00Z'] : []),
  ];
}

/** Characters that no text of a record holds: NUL, controls, halves of pairs, marks that turn the text around. */
const UNFIT = ['\u0000', '\u0007', '\u001b', '\u007f', '\u0085', '\ud800', '\udfff', '\u202e', '\u2066', '\u200f', '\u061c'];

const isFreeText = ({ schema }: Place): boolean =>
  typesOf(schema).includes('string') && schema.format === undefined && schema.enum === undefined && schema.maxLength !== undefined;

/** The body as JSON text with `raw` where the value at the place is. */
function withRaw(target: Target, draw: Draw, document: ApiDocument, fits: (place: Place) => boolean, raw: string): Partial<BadRequest> | null {
  const marked = changed(target, draw, document, fits, () => '@@raw@@');
  return marked === null ? null : { ...marked, body: JSON.stringify(marked.body).replace('"@@raw@@"', raw), headers: JSON_TYPE };
}

const asText = (target: Target, text: string): Partial<BadRequest> | null =>
  target.body === null ? null : { body: text, headers: JSON_TYPE };

const opened = (target: Target): string => JSON.stringify(target.body ?? {}).replace(/\}$/, '');
const isEmpty = (target: Target): boolean => Object.keys(target.body ?? {}).length === 0;

const withQuery = ({ url }: Target, query: string): string => `${url}${url.includes('?') ? '&' : '?'}${query}`;

function inPath({ operation, url }: Target, value: string): Partial<BadRequest> | null {
  const place = operation.path.split('/').findIndex((part) => part.startsWith('{'));
  if (place < 0) return null;
  const id = url.split('?')[0]?.split('/')[place] ?? '';
  return { url: url.replace(id, value) };
}

/** Bytes whose opening shows a format that is not taken, and bytes that show none. */
const OTHER_FILES: readonly Buffer[] = [
  Buffer.from('GIF89a\u0001\u0000'), Buffer.from('PK\u0003\u0004\u0014\u0000\u0000\u0000'), Buffer.from('MZ\u0000\u0000'), Buffer.from([0, 1, 2, 3]),
  Buffer.from([0xff, 0xfe, 0x41, 0x00]), Buffer.from([0x61, 0x62, 0x63, 0xc3, 0x28, 0x61, 0x62, 0x63]),
];

const OTHER_TYPES = [
  'text/plain', 'application/xml', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'application/jsonx', 'image/gif', ';',
];

/** Values that fit no form; text that is free in form is only too short, too long or unprintable. */
function outOfForm(schema: Schema = {}): string[] {
  const { minLength = 1, maxLength = 1999, format, pattern, enum: words } = schema;
  const anywhere = ['', '%00', 'x'.repeat(maxLength + 1), 'x'.repeat(3000)];
  const isFree = typesOf(schema).includes('string') && format === undefined && pattern === undefined && words === undefined;
  if (isFree) return minLength < 2 ? anywhere : [...anywhere, 'x'.repeat(minLength - 1)];
  return [...anywhere, '1e400', '-', 'NaN', '9007199254740993', '%27', '2026-02-30T00:00:00Z', 'TRUE', '%F0%9F%92%A9'];
}

/** The faults, by name. Each gives null for an operation that cannot have it. */
export const FAULTS: Readonly<Record<string, Fault>> = {
  'another type': (target, draw, document) => changed(target, draw, document, () => true, (place) => otherType(place, draw)),
  'out of bounds': (target, draw, document) =>
    changed(target, draw, document, ({ schema }) => beyond(schema).length > 0, ({ schema }) => draw(fc.constantFrom(...beyond(schema)))),
  'unfit characters': (target, draw, document) =>
    changed(target, draw, document, isFreeText, () => `fine ${draw(fc.constantFrom(...UNFIT))} text`),
  'a field left out': (target, draw, document) =>
    changed(target, draw, document, ({ path, isRequired }) => isRequired && typeof path.at(-1) === 'string', () => undefined),
  'null for a needed field': (target, draw, document) =>
    changed(target, draw, document, ({ path, isRequired }) => isRequired && typeof path.at(-1) === 'string', () => null),
  'an unknown field': (target, draw) => {
    const field = draw(fc.constantFrom('colour', 'Id', 'version', 'keyedBy', 'recordedAt', 'roles_', '$where', 'toString', 'hasOwnProperty'));
    return target.body === null ? null : { body: { ...target.body, [field]: draw(harmlessValue) }, field };
  },
  'a number no double holds': (target, draw, document) =>
    withRaw(target, draw, document, ({ schema }) => schema.properties === undefined, draw(fc.constantFrom('1e400', '-1e400', '9007199254740993', '123456789012345678901234567890'))),
  'a huge text': (target, draw, document) => changed(target, draw, document, isFreeText, () => 'x'.repeat(draw(fc.integer({ min: 100_000, max: 900_000 })))),
  'nested too deep': (target, draw, document) => {
    const [open, close] = draw(fc.constantFrom(['[', ']'], ['{"a":', '}']));
    const request = withRaw(target, draw, document, () => true, `${open.repeat(10_000)}1${close.repeat(10_000)}`);
    // Too deep is said of the body as a whole.
    return request === null ? null : { ...request, field: '' };
  },
  'a key twice': (target, draw) => {
    if (target.body === null || isEmpty(target)) return null;
    const [key, value] = draw(fc.constantFrom(...Object.entries(target.body)));
    return asText(target, `${opened(target)},${JSON.stringify(key)}:${JSON.stringify(value)}}`);
  },
  'a key that reaches into objects': (target, draw) =>
    asText(target, `${opened(target)}${isEmpty(target) ? '' : ','}${draw(fc.constantFrom('"__proto__":{"roles":["administrator"]}', '"constructor":{"prototype":{"a":1}}', String.raw`"\u005f_proto__":{}`))}}`),
  'no JSON': (target, draw) =>
    asText(target, draw(fc.constantFrom(opened(target), `${JSON.stringify(target.body)}}`, '{a:1}', "{'a':1}", 'undefined', '[1,]', 'NaN', '\u0000', '{"a":"\u0001"}', `${JSON.stringify(target.body)} //`))),
  'no object': (target, draw) => asText(target, draw(fc.constantFrom('[]', '[{}]', 'null', '1', '"text"', 'true', `[${JSON.stringify(target.body)}]`))),
  'an empty body': (target, draw) => target.bytes !== undefined ? { body: '' } : (target.body === null || !placesNeeded(target) ? null : ({ body: draw(fc.constantFrom(undefined, '', '{}')), headers: JSON_TYPE })),
  'another media type': (target, draw) => {
    if (target.bytes !== undefined) return { headers: { 'content-type': draw(fc.constantFrom(...OTHER_TYPES, 'application/json')) } };
    // Types of files too, which other routes take.
    return target.body === null ? null : {
      body: JSON.stringify(target.body),
      headers: { 'content-type': draw(fc.constantFrom(...OTHER_TYPES, 'image/png', 'text/csv', 'application/octet-stream')) },
    };
  },
  'a file of another format': (target, draw) =>
    target.operation.path === '/api/files' && target.bytes !== undefined ? { body: draw(fc.constantFrom(...OTHER_FILES)) } : null,
  'a file named as another format': (target, draw) =>
    target.operation.path === '/api/files' && target.bytes !== undefined
      ? { url: withQuery(target, `name=paper${draw(fc.constantFrom('.png', '.csv', '.exe', '.PDF.JPG', '.html'))}`) } : null,
  'an oversize body': (target) => asText(target, `${opened(target)}${isEmpty(target) ? '' : ','}"note":"${'x'.repeat(1_100_000)}"}`),
  'no id in the path': (target, draw) =>
    inPath(target, draw(fc.constantFrom('x', '0', 'null', '..%2f..%2fetc', '%00', 'a%00b', '%20', '0197A2C4-5B00-7D31-9C11-3A5D0E7F1B01', "'or'1'='1", '%F0%9F%92%A9', 'a'.repeat(100), 'a'.repeat(5000)))),
  'the id of nothing': (target, draw) => inPath(target, draw(fc.uuid({ version: 7 }))),
  'a fault in percent-encoding': (target, draw) => inPath(target, draw(fc.constantFrom('%', '%zz', '%E0%A4', '%C0%AF', '%u0041', '%ff'))),
  'a repeated query parameter': (target, draw) => {
    const name = draw(fc.constantFrom('limit', 'asKnownAt', 'x', ...(target.operation.parameters ?? []).filter((one) => one.in === 'query').map((one) => one.name)));
    return { url: withQuery(target, `${name}=1&${name}=2`) };
  },
  'an unknown query parameter': (target, draw) => {
    const name = draw(fc.constantFrom('colour', 'Limit', 'as_known_at', '__proto__', 'constructor', 'a[b]', '%00'));
    return { url: withQuery(target, `${name}=${draw(fc.constantFrom('1', '', '%00', '%F0%9F%92%A9'))}`) };
  },
  'a query parameter out of form': ({ operation, url }, draw) => {
    const parameters = (operation.parameters ?? []).filter((parameter) => parameter.in === 'query');
    if (parameters.length === 0) return null;
    const { name, schema } = draw(fc.constantFrom(...parameters));
    const value = draw(fc.constantFrom(...outOfForm(schema)));
    const rest = (url.split('?')[1] ?? '').split('&').filter((part) => part !== '' && !part.startsWith(`${name}=`));
    return { url: `${url.split('?')[0] ?? ''}?${[...rest, `${name}=${value}`].join('&')}`, field: name };
  },
  'a version out of form': ({ operation }, draw) =>
    !needsVersion(operation) ? null : {
      headers: { 'if-match': draw(fc.constantFrom('1', '"x"', 'W/"1"', '*', '', '"1', '"-1"', '"1.0"', '"9999999999"', '"1", "2"', '"\u00e9"')) }, field: 'If-Match',
    },
  'a version that is not the open one': ({ operation }, draw) =>
    needsVersion(operation) ? { headers: { 'if-match': draw(fc.constantFrom('"0"', '"2"', '"999999999"')) } } : null,
  'no version': ({ operation }) => (needsVersion(operation) ? { headers: { 'if-match': '@absent' } } : null),
  'an idempotency key out of form': ({ operation }, draw) =>
    operation.parameters?.some(({ name }) => name === 'Idempotency-Key') !== true ? null : {
      headers: { 'idempotency-key': draw(fc.constantFrom('', ' ', 'x'.repeat(101), 'x'.repeat(5000), 'a\u0085b')) }, field: 'Idempotency-Key',
    },
  'another method': ({ operation }, draw) => {
    const method = draw(fc.constantFrom('PUT', 'DELETE', 'TRACE', 'PROPFIND', 'SEARCH', 'LOCK'));
    return operation.method === method ? null : { method, body: undefined };
  },
  'a path beside it': ({ url }, draw) => ({ url: url.replace('/', draw(fc.constantFrom('//', '/x/', '/API/', '/api/'))) }),
};

const needsVersion = ({ parameters = [] }: Operation): boolean => parameters.some(({ name }) => name === 'If-Match');
const placesNeeded = ({ schema, body }: Target): boolean => schema !== null && body !== null;

/** A bad request of this fault, drawn by `seed`; null when the operation cannot have it. */
export function badRequest(fault: string, target: Target, document: ApiDocument, seed: number): BadRequest | null {
  const arbitrary = fc.gen().map((generate) => FAULTS[fault]?.(target, (drawn) => generate(() => drawn), document) ?? null);
  const [part = null] = fc.sample(arbitrary, { numRuns: 1, seed });
  if (part === null) return null;
  const { operation, url, headers, body, bytes } = target;
  const all = { ...headers, ...bytes?.headers, ...part.headers };
  const sent = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== '@absent'));
  const right = body ?? bytes?.body;
  const whole = { fault, method: operation.method, url, ...(right === undefined ? {} : { body: right }), ...part };
  return { ...whole, headers: sent };
}
