import type { CanActivate, ExecutionContext } from '@nestjs/common';
import { ROUTE_ARGS_METADATA } from '@nestjs/common/constants.js';
import { RouteParamtypes } from '@nestjs/common/enums/route-paramtypes.enum.js';
import type { FastifyRequest } from 'fastify';
import { malformed } from './problem.js';

/**
 * Refuses, with 400, a query parameter that a route does not read: a misspelt one would silently do nothing. A route
 * that takes the whole query judges all of it itself.
 */
export class KnownQueryGuard implements CanActivate {
  canActivate(context: ExecutionContext): boolean {
    const query = context.switchToHttp().getRequest<FastifyRequest>().query as Record<string, unknown>;
    const sent = Object.keys(query);
    if (sent.length === 0) return true;
    const read = readBy(context.getClass(), context.getHandler().name);
    const unknown = read === 'all' ? [] : sent.filter((field) => !read.includes(field));
    if (unknown.length === 0) return true;
    const limit = read.length === 0 ? 'no parameter is taken here' : `one of the parameters ${[...read].join(', ')}`;
    throw malformed(unknown.map((field) => ({ field, value: query[field], limit })));
  }
}

/** The query parameters that a handler names in its signature, or that it takes them all. */
function readBy(controller: object, handler: string): readonly string[] | 'all' {
  const taken = (Reflect.getMetadata(ROUTE_ARGS_METADATA, controller, handler) ?? {}) as Record<string, { data?: unknown }>;
  const names = Object.entries(taken)
    .filter(([key]) => key.startsWith(`${RouteParamtypes.QUERY}:`))
    .map(([, { data }]) => data);
  return names.every((name) => typeof name === 'string') ? names : 'all';
}
