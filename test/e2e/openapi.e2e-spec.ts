import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { Validator } from '@seriousme/openapi-schema-validator';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import type { ApiDocument, Media, Operation } from '../setup/document.js';
import { ExampleRecords, queryOf, recordKinds, requestOf, SIGNED, takesBytes } from '../setup/example-records.js';

let api: TestApi;
let everyone: SignedIn;
let document: ApiDocument;
beforeAll(async () => {
  api = await startTestApi();
  everyone = await api.signIn('qc-inspector', 'materials-engineer', 'administrator');
  document = api.document;
});
afterAll(async () => {
  await api.close();
});

const named = ({ method, path }: { method: string; path: string }): string => `${method} ${path}`;

/** Where to send a request of an operation: to a record that stands, in its open version. */
async function addressed(records: ExampleRecords, operation: Operation): Promise<{ path: string; headers: Record<string, string> }> {
  const path = `${await records.pathOf(operation.path)}${queryOf(operation)}`;
  if (!operation.path.includes('{id}')) return { path, headers: {} };
  const { body } = await everyone.send('GET', path.split('/').slice(0, 4).join('/'));
  // An upload has no versions.
  return { path, headers: typeof body['version'] === 'number' ? { 'if-match': `"${body['version']}"` } : {} };
}

/** True when every body of a request has an example, and bytes are said to be bytes. */
const hasExamples = ({ requestBody }: Operation): boolean =>
  Object.entries(requestBody?.content ?? {}).every(([type, { schema, example }]) =>
    /[/+]json$/.test(type) ? example != null : schema?.type === 'string' && schema.format === 'binary');

/** Every example of an answer, with what it is an example of. */
function answerExamples(operation: Operation): { status: string; type: string; media: Media }[] {
  return Object.entries(operation.responses).flatMap(([status, { content = {} }]) =>
    Object.entries(content).map(([type, media]) => ({ status, type, media })),
  );
}

describe('the API document', () => {
  test('is a valid OpenAPI 3.1 document, by the schema of the OpenAPI Initiative', async () => {
    const { body } = await api.send('GET', '/docs/openapi.json');
    const validator = new Validator();
    expect(await validator.validate(body)).toEqual({ valid: true });
    expect(validator.version).toBe('3.1');
    const broken = await new Validator().validate({ ...body, paths: { '/x': { get: { responses: 7 } } } });
    expect(broken.valid).toBe(false);
  });

  test('is the committed one: npm run openapi writes it anew', async () => {
    const { body } = await api.send('GET', '/docs/openapi.json');
    expect(body).toEqual(JSON.parse(readFileSync('apps/api/openapi.json', 'utf8')));
  });

  test('is the same whenever it is asked for', async () => {
    const [first, second] = [await api.send('GET', '/docs/openapi.json'), await api.send('GET', '/docs/openapi.json')];
    expect(second.body).toEqual(first.body);
  });

  test('describes every route of the running server, and nothing else', () => {
    // Fastify answers HEAD by itself where there is a GET; /docs are pages.
    const routes = api.routes.filter(({ method, path }) => method !== 'HEAD' && !path.startsWith('/docs'));
    expect(document.operations.map(named).sort()).toEqual(routes.map(named).sort());
    expect(routes.length).toBeGreaterThan(80);
  });

  test('says of every operation what it is for, what it takes and what it answers', () => {
    const faults = document.operations.flatMap((operation) => {
      const { summary = '', tags = [], parameters = [], requestBody, responses, path, method } = operation;
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]);
      const described = parameters.filter((parameter) => parameter.in === 'path').map(({ name }) => name);
      const successes = Object.keys(responses).filter((status) => status.startsWith('2'));
      const problem = responses['default']?.content?.['application/problem+json'];
      return [
        ...(summary.length > 5 ? [] : ['no summary']),
        ...(tags.length > 0 ? [] : ['no tag']),
        ...(described.join() === inPath.join() ? [] : ['path parameters']),
        ...parameters.filter(({ description, schema }) => !description || schema?.type === undefined).map(({ name }) => `parameter ${name}`),
        ...(method !== 'GET' || requestBody === undefined ? [] : ['a body of GET']),
        ...(hasExamples(operation) ? [] : ['no request example']),
        ...(requestBody === undefined || Object.keys(requestBody.content).length > 0 ? [] : ['no type of request']),
        ...(successes.length === 1 ? [] : [`${successes.length} successes`]),
        ...answerExamples(operation).filter(({ type, media }) => type.endsWith('json') && (media.schema === undefined || media.example == null)).map(({ status }) => `no example of ${status}`),
        ...(successes.includes('204') || responses[successes[0] ?? '']?.content !== undefined ? [] : ['no body of a success']),
        ...(problem?.example == null ? ['no error answer'] : []),
      ].map((fault) => `${named(operation)}: ${fault}`);
    });
    expect(faults).toEqual([]);
  });

  test('has only examples that keep to their schemas', () => {
    let checked = 0;
    const faults = document.operations.flatMap((operation) => {
      const request = requestOf(operation);
      const sent = request === null ? [] : document.requestFaults(operation, request.example);
      const answered = answerExamples(operation).filter(({ type }) => type.endsWith('json')).flatMap(({ status, type, media }) => {
        checked += 1;
        return document.answerFaults(operation, status === 'default' ? 400 : Number(status), type, media.example);
      });
      checked += request === null ? 0 : 1;
      return [...sent, ...answered].map((fault) => `${named(operation)}: ${fault}`);
    });
    expect(faults).toEqual([]);
    expect(checked).toBeGreaterThan(document.operations.length);
  });
});

describe('the request examples are true', () => {
  test('each kind of record is entered by its example, and decisions and releases are signed: 201', async () => {
    const records = new ExampleRecords(document, everyone, false);
    const kinds = recordKinds(document);
    expect(kinds.length).toBeGreaterThanOrEqual(18);
    for (const kind of [...kinds, ...SIGNED]) {
      const id = await records.id(kind);
      expect(await everyone.send('GET', `/api/${kind}/${id}`)).toMatchObject({ status: 200, body: { id, version: 1 } });
    }
  }, 30_000);

  test('every other body has the form its route takes', async () => {
    const refused: string[] = [];
    for (const operation of document.operations) {
      // New ones each time: some of these withdraw what others would need.
      const records = new ExampleRecords(document, everyone);
      const request = requestOf(operation);
      if ((request === null && !takesBytes(operation)) || operation.path === '/api/me/password') continue;
      const sent = request === null ? await records.bytes(operation) : { body: await records.withReferences(request.schema, request.example) };
      const { path, headers } = await addressed(records, operation);
      const { status, body: answer } = await everyone.send(operation.method as 'POST', path, { ...sent, headers: { ...headers, ...sent.headers } });
      if (status === 400 || status === 415 || status >= 500) refused.push(`${named(operation)}: ${JSON.stringify(answer)}`);
    }
    expect(refused).toEqual([]);
  }, 120_000);
});

describe('an answer that the document does not allow is noticed', () => {
  const wells = (): Operation => document.operation('GET', '/api/wells')!;
  const page = { items: [], next: null };

  test.each([
    ['a status it does not name', 202, 'application/json', page],
    ['a type it does not name', 200, 'text/html', page],
    ['a field it does not name', 200, 'application/json', { ...page, total: 0 }],
    ['a field left out', 200, 'application/json', { items: [] }],
    ['a value of another type', 200, 'application/json', { items: {}, next: null }],
    ['a value out of form', 200, 'application/json', { items: [], next: 'soon' }],
    ['a refusal that is no problem', 404, 'application/json', { message: 'none' }],
    ['a refusal with a field too many', 404, 'application/problem+json', { stack: 'at …' }],
  ])('%s', (_, status, type, body) => {
    expect(document.answerFaults(wells(), status, type, body)).not.toEqual([]);
  });

  test('and one that it allows is not', () => {
    expect(document.answerFaults(wells(), 200, 'application/json; charset=utf-8', page)).toEqual([]);
  });
});
