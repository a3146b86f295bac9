import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { apiDocument } from '../../apps/api/src/docs/api-document.js';
import { ApiDocument } from './document.js';

/** What was asked and answered, as far as the API document speaks of it. */
export interface Exchange {
  readonly method: string;
  readonly url: string;
  readonly status: number;
  readonly contentType: string | undefined;
  readonly body: unknown;
}

/** Pages for people, which the API document does not describe. */
const PAGES = /^\/docs(\/|$)/;

/** Holds every answer against the API document; made when the first answer comes. */
export class AnswerCheck {
  private made: ApiDocument | undefined;

  constructor(private readonly app: NestFastifyApplication) {}

  get document(): ApiDocument {
    this.made ??= new ApiDocument(JSON.parse(JSON.stringify(apiDocument(this.app))));
    return this.made;
  }

  /** Throws when the document does not say that this can be answered. */
  check(exchange: Exchange): void {
    const faults = this.faults(exchange);
    if (faults.length === 0) return;
    const { method, url, status, body } = exchange;
    throw new Error(
      `${method} ${url} answered ${status}, against the API document:\n  ${faults.slice(0, 10).join('\n  ')}\n${JSON.stringify(body).slice(0, 2000)}`,
    );
  }

  private faults({ method, url, status, contentType, body }: Exchange): string[] {
    const path = url.split('?')[0] ?? '';
    if (PAGES.test(path)) return [];
    const operation = this.document.operation(method, path);
    if (operation !== undefined) return this.document.answerFaults(operation, status, contentType, body);
    return status < 400 ? ['there is no such operation'] : this.document.problemFaults(body);
  }
}
