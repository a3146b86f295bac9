import { Catch, HttpException, type ArgumentsHost, type ExceptionFilter } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { StaleVersion } from '#libs/persistence';
import { refusalOfDatabase } from './database-refusals.js';
import { Refused, problemOf, type FieldProblem } from './problem.js';

/** Turns everything thrown while serving a request into RFC 9457 problem details; faults of ours are logged. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    const request = http.getRequest<FastifyRequest>();
    sendProblem(error, request, http.getResponse<FastifyReply>());
  }
}

/** Also Fastify's own error handler: a body that cannot be parsed never reaches Nest. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const refused = refusalOf(error, request);
  if (refused.status >= 500) request.log.error({ err: error }, 'request failed');
  if (refused.status === 401) void reply.header('www-authenticate', 'Bearer');
  if (typeof refused.members['retryAfterSeconds'] === 'number') {
    void reply.header('retry-after', String(refused.members['retryAfterSeconds']));
  }
  void reply
    .status(refused.status)
    .header('content-type', 'application/problem+json; charset=utf-8')
    .send(JSON.stringify(problemOf(refused, request.url.split('?')[0] ?? '', request.id)));
}

function refusalOf(error: unknown, { headers }: FastifyRequest): Refused {
  if (error instanceof Refused) return error;
  if (error instanceof StaleVersion) return new Refused(412, 'stale-version', error.message);
  const database = refusalOfDatabase(error);
  if (database !== null) return database;
  const status = statusOf(error);
  if (status >= 400 && status < 500) return new Refused(status, CODES[status] ?? 'malformed', messageOf(error), status === 415 ? [ofType(headers['content-type'])] : []);
  return new Refused(500, 'internal', 'The program failed on this request; nothing was written.');
}

const ofType = (type: string | undefined): FieldProblem => ({ field: 'Content-Type', value: type ?? null, limit: 'a type that this route takes' });

const CODES: Readonly<Record<number, string>> = {
  401: 'sign-in', 403: 'forbidden', 404: 'not-found', 405: 'method', 413: 'too-large', 415: 'media-type',
  429: 'too-many',
};

function statusOf(error: unknown): number {
  if (error instanceof HttpException) return error.getStatus();
  const { statusCode } = (error ?? {}) as { statusCode?: unknown };
  return typeof statusCode === 'number' ? statusCode : 500;
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : 'The request was refused.';
}
