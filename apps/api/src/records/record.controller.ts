import { Body, Controller, Get, HttpCode, Param, Patch, Post, Query, Res, type Type } from '@nestjs/common';
import { ApiBody, ApiExtraModels, ApiHeader, ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags, getSchemaPath } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { RecordVersion } from '#libs/persistence';
import { Allow } from '../access/allow.decorator.js';
import type { Permission } from '../access/permissions.js';
import { isUuid } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { HistoryAnswer, VoidInput, type RecordAnswer, type RecordInput } from './record.dto.js';
import { knownAtOf, KnownAtQuery } from './known-at.js';
import type { ListQuery } from './list-query.js';
import type { RecordsService } from './records.service.js';
import { Write, type WriteRequest } from './write-request.js';

/** What a kind of record tells about its routes. */
export interface RecordRoutes {
  /** The plural under /api, such as `coil-segments`. */
  readonly path: string;
  /** What a write needs, such as `coil-segment:write`. */
  readonly write: Permission;
  /** What entering a record needs, when it is less than other writes. */
  readonly create?: Permission;
  /** What reading needs; `records:read` when absent. */
  readonly read?: Permission;
  readonly input: Type<RecordInput>;
  readonly answer: Type<RecordAnswer>;
  /** Fields a list can be filtered by. */
  readonly filters: readonly string[];
}

/** The instance side of what `recordController` makes. */
export interface RecordController {
  create(body: unknown, request: WriteRequest, reply: FastifyReply): Promise<object>;
}

type AnyRecords = RecordsService<RecordVersion, RecordInput, object>;

const PAGE = 100;
const LONGEST_PAGE = 500;

/** An id in a path; anything else is 400 and names it. */
export function pathId(id: string): string {
  if (!isUuid(id)) throw malformed([{ field: 'id', value: id, limit: 'a UUID in lower case' }]);
  return id;
}

/** The query of a list. Refuses what it does not know, and repeated keys. */
export function listQueryOf(query: Readonly<Record<string, unknown>>): ListQuery {
  const { asKnownAt, includeVoid = 'false', after, limit = String(PAGE), ...filters } = query;
  const size = typeof limit === 'string' && /^\d{1,3}$/.test(limit) ? Number(limit) : 0;
  if (size < 1 || size > LONGEST_PAGE) {
    throw malformed([{ field: 'limit', value: limit, limit: `1 to ${LONGEST_PAGE}` }]);
  }
  if (after !== undefined && !isUuid(after)) throw malformed([{ field: 'after', value: after, limit: 'a UUID' }]);
  if (includeVoid !== 'true' && includeVoid !== 'false') {
    throw malformed([{ field: 'includeVoid', value: includeVoid, limit: 'true or false' }]);
  }
  for (const [field, value] of Object.entries(filters)) {
    if (!isUuid(value)) throw malformed([{ field, value, limit: 'the UUID of one record' }]);
  }
  return {
    asKnownAt: knownAtOf(asKnownAt),
    includeVoid: includeVoid === 'true',
    after: after ?? null,
    limit: size,
    filters: filters as Record<string, string>,
  };
}

/**
 * The routes every kind of record has. A kind's controller extends the class this gives and hands its service on:
 * `class SplicesController extends recordController(routes) { constructor(s: SplicesService) { super(s); } }`
 */
export function recordController(
  routes: RecordRoutes,
): abstract new (records: AnyRecords) => RecordController {
  const { path, write, create = write, read = 'records:read', input, answer } = routes;
  const asKnownAt = KnownAtQuery();
  const id = ApiParam({ name: 'id', description: 'The record.', format: 'uuid' });
  const ifMatch = ApiHeader({ name: 'If-Match', required: true, description: 'The version amended, in double quotes.', example: '"1"' });
  const once = ApiHeader({ name: 'Idempotency-Key', required: false, description: 'A repeated request with this key gives the first answer again.' });

  @ApiTags(path)
  @ApiExtraModels(input, answer)
  @Controller(`api/${path}`)
  abstract class Routes implements RecordController {
    constructor(private readonly records: AnyRecords) {}

    @Post()
    @Allow(create)
    @once
    @ApiOperation({ summary: `Enter a record: ${path}` })
    @ApiBody({ type: input })
    @ApiResponse({ status: 201, type: answer, description: 'The record as taken.' })
    async create(@Body() body: unknown, @Write() request: WriteRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<object> {
      return versioned(reply, await this.records.create(body, request));
    }

    @Get()
    @Allow(read)
    @asKnownAt
    @ApiOperation({ summary: `A page of records: ${path}` })
    @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: LONGEST_PAGE, default: PAGE, example: PAGE } })
    @ApiQuery({ name: 'after', required: false, description: 'The `next` of the page before.', schema: { type: 'string', format: 'uuid' } })
    @ApiQuery({ name: 'includeVoid', required: false, description: 'Void records too.', schema: { type: 'string', enum: ['true', 'false'], example: 'false' } })
    @ApiResponse({ status: 200, description: 'The page.', schema: pageSchema(answer) })
    async list(@Query() query: Record<string, unknown>): Promise<object> {
      return this.records.list(listQueryOf(query));
    }

    @Get(':id')
    @Allow(read)
    @id
    @asKnownAt
    @ApiOperation({ summary: `One record: ${path}` })
    @ApiResponse({ status: 200, type: answer, description: 'The record.' })
    async get(@Param('id') recordId: string, @Query('asKnownAt') at: unknown, @Res({ passthrough: true }) reply: FastifyReply): Promise<object> {
      return versioned(reply, await this.records.get(pathId(recordId), knownAtOf(at)));
    }

    @Get(':id/history')
    @Allow(read)
    @id
    @ApiOperation({ summary: `All versions of a record: ${path}` })
    @ApiResponse({ status: 200, type: HistoryAnswer, description: 'Who, when, why and what changed.' })
    async history(@Param('id') recordId: string): Promise<HistoryAnswer> {
      return this.records.history(pathId(recordId));
    }

    @Patch(':id')
    @Allow(write)
    @id
    @ifMatch
    @once
    @ApiOperation({ summary: `Amend a record: ${path}` })
    @ApiBody({ schema: amendmentSchema(input) })
    @ApiResponse({ status: 200, type: answer, description: 'The new version.' })
    async amend(@Param('id') recordId: string, @Body() body: unknown, @Write() request: WriteRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<object> {
      return versioned(reply, await this.records.amend(pathId(recordId), body, request));
    }

    @Post(':id/void')
    @HttpCode(200)
    @Allow(write)
    @id
    @ifMatch
    @once
    @ApiOperation({ summary: `Withdraw a record: ${path}` })
    @ApiBody({ type: VoidInput })
    @ApiResponse({ status: 200, type: answer, description: 'The record, void and still readable.' })
    async void(@Param('id') recordId: string, @Body() body: unknown, @Write() request: WriteRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<object> {
      const { reason } = parsed(VoidInput, body);
      return versioned(reply, await this.records.void(pathId(recordId), reason, request));
    }
  }
  for (const filter of routes.filters) {
    const descriptor = Object.getOwnPropertyDescriptor(Routes.prototype, 'list') ?? {};
    ApiQuery({ name: filter, required: false, description: `Only those of this ${filter.slice(0, -2)}.`, schema: { type: 'string', format: 'uuid' } })(
      Routes.prototype, 'list', descriptor,
    );
  }
  return Routes;
}

function versioned<A extends RecordAnswer>(reply: FastifyReply, answer: A): A {
  void reply.header('etag', `"${answer.version}"`);
  return answer;
}

function pageSchema(answer: Type): object {
  return {
    type: 'object',
    required: ['items', 'next'],
    properties: {
      items: { type: 'array', items: { $ref: getSchemaPath(answer) } },
      next: { type: 'string', format: 'uuid', nullable: true, example: null, description: 'Ask for the next page with `after`.' },
    },
  };
}

function amendmentSchema(input: Type): object {
  return {
    type: 'object',
    required: ['reason'],
    description: `A reason, and any of the fields of ${input.name} that change; null takes a field away.`,
    properties: { reason: { type: 'string', minLength: 3, maxLength: 2000, example: 'Gauge read again in good light.' } },
    'x-amends': getSchemaPath(input),
  };
}
