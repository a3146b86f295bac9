import type { LoggerService } from '@nestjs/common';
import type { FastifyBaseLogger } from 'fastify';

/** Writes what Nest and our own services log to the program's one log. */
export class NestLogger implements LoggerService {
  constructor(private readonly logger: FastifyBaseLogger) {}

  log(message: unknown, ...more: unknown[]): void {
    this.logger.debug({ context: more.at(-1) }, String(message));
  }

  warn(message: unknown, ...more: unknown[]): void {
    this.logger.warn({ context: more.at(-1) }, String(message));
  }

  error(message: unknown, ...more: unknown[]): void {
    this.logger.error({ more: more.map(String) }, String(message));
  }
}
