import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { DocumentBuilder, SwaggerModule, type OpenAPIObject } from '@nestjs/swagger';
import { completeDocument, operationsOf } from './complete-document.js';
import type { SchemaNode } from './schema-node.js';

const DESCRIPTION = `
The record of every metre of an endless pipe: coils, welds, inspections, and the way from a depth back to its coil.

**Sign in.** \`POST /api/sign-in\` with \`name\` and \`password\` answers a token; send it as
\`Authorization: Bearer <token>\` with every request. It ends after 30 minutes without use, after 12 hours, on sign-out,
and at once when the person's roles change. Line computers send a token of their own, made by
\`POST /api/devices/{id}/tokens\`.

**Enter.** Every kind of record is entered, read, amended and withdrawn in the same way. A new record brings its own
\`id\` (UUIDv7) or an \`Idempotency-Key\` header, so that a repeated request has the effect of one.

**Amend.** Nothing is overwritten: \`PATCH\` makes the next version, names the version it amends in \`If-Match\`, and
says why in \`reason\`. \`asKnownAt\` reads any record as it was known at an earlier instant.

**Units** are in the names (\`depthMm\`). Measured values are decimal strings and keep their digits. Instants are UTC.

**Errors** are problem details (RFC 9457) with one entry in \`errors\` for each wrong field.`.trim();

const TAGS: Readonly<Record<string, string>> = {
  access: 'Signing in and out, and the own password.',
  health: 'Whether the program runs and is ready.',
  people: 'People, their roles, and whether they may sign in.',
  devices: 'Line computers, and the tokens by which they append readings.',
  wells: 'Holes in the ground and the datum their depths count from.',
  'casing-strings': 'One pipe, from its shoe to its hang-off, and the rules its lengths follow.',
  heats: 'Melts of steel.',
  certificates: 'Inspection certificates of steel.',
  coils: 'Coils of strip.',
  surveys: 'Where the hole goes: directional surveys.',
  'line-setups': 'Which stations stand where along the line.',
  'counter-periods': 'From when to when a counter counted how.',
  'counter-readings': 'What the counters showed.',
  'hang-offs': 'Where the string came to hang, and what that says of every depth.',
  'shoe-ties': 'The shoe found at a depth.',
  'coil-segments': 'Which metres of the string a coil became.',
  splices: 'Where one coil is welded to the next.',
  'cut-outs': 'What was cut out of the string.',
  rejoins: 'Welds that joined the string again.',
  inspections: 'What was checked, where, with what result.',
  nonconformances: 'What does not conform, where, and what was decided.',
  questions: 'Answers worked out from the records.',
};

/** RFC 9457 problem details, as every error is answered. */
const problem = (): SchemaNode => ({
  type: 'object',
  required: ['type', 'title', 'status', 'detail', 'instance', 'requestId', 'errors'],
  description: 'Problem details (RFC 9457).',
  example: {
    type: 'urn:everymetre:problem:malformed', title: 'Bad request', status: 400,
    detail: 'The request does not have the form this route takes.', instance: '/api/wells',
    requestId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b09',
    errors: [{ field: 'name', value: 7, limit: 'text of 1 to 80 printable characters' }],
  },
  properties: {
    type: { type: 'string', description: 'The kind of problem.', example: 'urn:everymetre:problem:malformed' },
    title: { type: 'string', example: 'Bad request' },
    status: { type: 'integer', minimum: 400, maximum: 599, example: 400 },
    detail: { type: 'string', example: 'The request does not have the form this route takes.' },
    instance: { type: 'string', description: 'The path asked for.', example: '/api/wells' },
    requestId: { type: 'string', description: 'Also in the x-request-id header.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b09' },
    errors: { type: 'array', items: { $ref: '#/components/schemas/FieldProblem' } },
    retryAfterSeconds: { type: 'integer', minimum: 1, description: 'When to try again; also in the retry-after header.' },
    currentVersion: { type: 'integer', minimum: 0, description: 'For a stale version: the one now open.' },
    recordedAt: { type: 'string', format: 'date-time', nullable: true, description: 'When the open version was recorded.' },
    reason: { type: 'string', nullable: true, description: 'Why the open version was made.' },
    kind: { type: 'string', description: 'The kind of the record in the way.' },
    id: { type: 'string', format: 'uuid', description: 'The record in the way.' },
    changes: { type: 'array', items: { $ref: '#/components/schemas/FieldChange' }, description: 'What changed since the version sent.' },
  },
});

const fieldProblem = (): SchemaNode => ({
  type: 'object',
  required: ['field', 'value', 'limit'],
  description: 'One thing wrong with what was sent.',
  properties: {
    field: { type: 'string', example: 'name' },
    value: { description: 'What was seen there; null for secrets.', example: 7 },
    limit: { type: 'string', description: 'What would be taken.', example: 'text of 1 to 80 printable characters' },
    confirm: { type: 'string', description: 'For an unlikely value: send this code in `confirm` if it is true.', example: 'widthMm:3f6c01ab' },
  },
});

/** The OpenAPI document of the whole API, the same whenever it is asked for. */
export function apiDocument(app: NestFastifyApplication): OpenAPIObject {
  const config = new DocumentBuilder()
    .setTitle('Everymetre')
    .setDescription(DESCRIPTION)
    .setVersion('0.1')
    .setOpenAPIVersion('3.1.0')
    .addBearerAuth({ type: 'http', scheme: 'bearer', description: 'The token of POST /api/sign-in, or a device token.' })
    .build();
  // A copy: parts of it belong to the decorators, which serve the next call too.
  const document = structuredClone(SwaggerModule.createDocument(app, config, { operationIdFactory }));
  const used = new Set<string>();
  for (const operation of operationsOf(document)) {
    operation.responses['default'] = {
      description: 'Any refusal or fault, as problem details.',
      content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
    };
    // What says nothing of its security needs a token; an empty list says that it is open.
    operation.security ??= [{ bearer: [] }];
    for (const tag of operation.tags ?? []) used.add(tag);
  }
  document.components = {
    ...document.components,
    schemas: { ...document.components?.schemas, Problem: problem(), FieldProblem: fieldProblem() },
  };
  document.tags = [...used].sort().map((name) => ({ name, description: TAGS[name] ?? `Records: ${name}.` }));
  completeDocument(document);
  return document;
}

const operationIdFactory = (controller: string, method: string): string =>
  `${controller.replace(/Controller$/, '')}_${method}`;
