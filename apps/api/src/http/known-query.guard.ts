import type { CanActivate, ExecutionContext } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { malformed } from './problem.js';

/** Where the decorators of @nestjs/swagger keep the parameters of a route; the package does not export the name. */
const PARAMETERS = 'swagger/apiParameters';

interface DescribedParameter {
  readonly name: string;
  readonly in: string;
}

/** Refuses, with 400, a query parameter that the API document does not name: a misspelt one would silently do nothing. */
export class KnownQueryGuard implements CanActivate {
  canActivate(context: ExecutionContext): boolean {
    const query = context.switchToHttp().getRequest<FastifyRequest>().query as Record<string, unknown>;
    const sent = Object.keys(query);
    if (sent.length === 0) return true;
    const known = knownTo(context.getHandler());
    const unknown = sent.filter((field) => !known.includes(field));
    if (unknown.length === 0) return true;
    const limit = known.length === 0 ? 'no parameter is taken here' : `one of the parameters ${known.join(', ')}`;
    throw malformed(unknown.map((field) => ({ field, value: query[field], limit })));
  }
}

function knownTo(handler: object): string[] {
  const described = (Reflect.getMetadata(PARAMETERS, handler) ?? []) as readonly DescribedParameter[];
  return described.filter((parameter) => parameter.in === 'query').map(({ name }) => name);
}
