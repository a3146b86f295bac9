import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import type { Actor } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import type { Party } from './permissions.js';

/** Who sent the request, as the guard found it. */
export interface Principal {
  readonly personId: string;
  /** The person's name, or the device's. */
  readonly name: string;
  readonly parties: readonly Party[];
  /** `session:…` or `device:…`, a digest of the token and never the token. */
  readonly via: string;
  readonly device: { readonly id: string; readonly stringId: string; readonly counters: readonly string[] } | null;
}

declare module 'fastify' {
  interface FastifyRequest {
    principal?: Principal;
  }
}

/** The principal of a request that passed the guard. */
export function principalOf(request: FastifyRequest): Principal {
  if (request.principal === undefined) throw new Refused(401, 'sign-in', 'This needs a signed-in person.');
  return request.principal;
}

/** The actor that a write is recorded under. */
export function actorOf(request: FastifyRequest): Actor {
  const { personId, via, device } = principalOf(request);
  return { personId, via, requestId: request.id, deviceId: device?.id ?? null };
}

/** The principal as a controller's parameter. */
export const Caller = createParamDecorator((_: unknown, context: ExecutionContext) =>
  principalOf(context.switchToHttp().getRequest<FastifyRequest>()),
);
