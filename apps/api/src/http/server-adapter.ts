import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import { Readable } from 'node:stream';
import { FastifyAdapter } from '@nestjs/platform-fastify';
import { LogController, type FastifyBaseLogger, type FastifyInstance, type FastifyRequest, type FastifyServerOptions } from 'fastify';
import { v7 as uuidv7 } from 'uuid';
import type { Configuration } from '../configuration.js';
import { checkDepth } from './body-depth.js';
import { hasDuplicateKeys } from './duplicate-keys.js';
import { KnownPaths } from './known-paths.js';
import { malformed, problemOf, Refused } from './problem.js';
import { sendProblem } from './problem.filter.js';
import { checkQuery } from './query-rules.js';
import { requestIdOf } from './request-id.js';
import { takeStreams } from './streamed-body.js';

const BODY_LIMIT_BYTES = 1_048_576;
/** Time for a whole request, also for a large file over a slow line; one that stands still is ended sooner. */
const REQUEST_TIMEOUT_MS = 600_000;
const CONNECTION_TIMEOUT_MS = 60_000;
const LONGEST_PARAMETER = 100;

/** Fastify as this program uses it: whatever goes wrong, also before and beside Nest, is answered as a problem. */
export class ServerAdapter extends FastifyAdapter {
  private readonly paths = new KnownPaths();

  constructor(configuration: Configuration, logger: FastifyBaseLogger) {
    super(serverOptions(configuration, logger));
    this.addHooks();
  }

  /** Nest would answer these two in its own form. */
  override setErrorHandler(): FastifyInstance {
    return this.instance.setErrorHandler(sendProblem);
  }

  override setNotFoundHandler(): FastifyInstance {
    return this.instance.setNotFoundHandler((request, reply) => {
      const path = request.url.split('?')[0] ?? '';
      const methods = this.paths.methodsOf(path);
      if (methods.length === 0) {
        sendProblem(new Refused(404, 'not-found', `There is nothing at ${path.slice(0, 200)}.`), request, reply);
        return;
      }
      void reply.header('allow', methods.join(', '));
      sendProblem(new Refused(405, 'method', `${request.method} is not taken here, but ${methods.join(', ')}.`), request, reply);
    });
  }

  /** Fastify's own parser, which refuses keys that reach into objects, but for keys that come twice. */
  private parseJsonOnce(): void {
    const parse = this.instance.getDefaultJsonParser('error', 'error');
    this.instance.removeContentTypeParser('application/json');
    this.instance.addContentTypeParser<string>('application/json', { parseAs: 'string' }, (request, text, done) => {
      void parse(request, text, (error, value: unknown) => {
        if (error === null && hasDuplicateKeys(text, value)) done(duplicateKey());
        else done(error, value);
      });
    });
  }

  private addHooks(): void {
    // Of the two types Fastify takes by itself, only JSON is taken here.
    this.instance.removeContentTypeParser('text/plain');
    this.parseJsonOnce();
    takeStreams(this.instance);
    this.instance.decorateRequest('principal', undefined);
    this.instance.addHook('onRoute', ({ url, method }) => { this.paths.add(url, [method].flat()); });
    this.instance.addHook('onRequest', (request, reply, done) => {
      void reply.header('x-request-id', request.id);
      checkQuery(request.query);
      done();
    });
    this.instance.addHook('preValidation', (request, _reply, done) => {
      if (!(request.body instanceof Readable)) checkDepth(request.body);
      done();
    });
    this.instance.addHook('onResponse', (request, reply, done) => {
      request.log.info(lineOf(request, reply.statusCode, reply.elapsedTime), 'answered');
      done();
    });
  }
}

const duplicateKey = (): Refused => malformed([{ field: '', value: null, limit: 'each key at most once in an object' }]);

function serverOptions(configuration: Configuration, logger: FastifyBaseLogger): FastifyServerOptions {
  return {
    loggerInstance: logger,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: BODY_LIMIT_BYTES,
    requestTimeout: REQUEST_TIMEOUT_MS,
    connectionTimeout: CONNECTION_TIMEOUT_MS,
    routerOptions: { maxParamLength: LONGEST_PARAMETER },
    trustProxy: trusted(configuration.trustProxy),
    requestIdHeader: false,
    genReqId: requestIdOf,
    return503OnClosing: false,
    frameworkErrors: sendProblem,
    clientErrorHandler: answerBrokenRequest,
  };
}

function trusted(proxies: Configuration['trustProxy']): FastifyServerOptions['trustProxy'] {
  if (typeof proxies === 'number') return (_address: string, hop: number) => hop < proxies;
  return proxies === false ? false : [...proxies];
}

/** What the log keeps of a request: never its query, its body or its headers. */
function lineOf(request: FastifyRequest, status: number, elapsedMs: number): object {
  const { method, url, principal } = request;
  return { method, path: url.split('?')[0], status, ms: Math.round(elapsedMs * 100) / 100, via: principal?.via };
}

const BROKEN: Readonly<Record<string, number>> = { HPE_HEADER_OVERFLOW: 431, ERR_HTTP_REQUEST_TIMEOUT: 408 };

/** Answers what is no HTTP request, for which Fastify has neither request nor reply. */
function answerBrokenRequest(error: Error & { code?: string }, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const status = BROKEN[error.code ?? ''] ?? 400;
  const title = STATUS_CODES[status] ?? 'Bad Request';
  const refused = new Refused(status, 'malformed', 'This is not an HTTP request that can be read.');
  const body = JSON.stringify({ ...problemOf(refused, '', uuidv7()), title });
  const head = [
    `HTTP/1.1 ${status} ${title}`, 'Content-Type: application/problem+json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`, 'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
}
