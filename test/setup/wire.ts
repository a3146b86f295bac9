import { Agent, request, type IncomingMessage } from 'node:http';

/** The password of whoever signs in over the wire. */
export const WIRE_PASSWORD = 'nine coils stayed very dry';

/** An answer over a socket, its JSON parsed. */
export interface WireAnswer {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

export interface WireRequest {
  readonly method: 'GET' | 'POST' | 'PATCH';
  readonly path: string;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
}

/**
 * Requests of one person over real connections to a listening server, as many at once as are sent at once. A request
 * whose answer does not come whole rejects.
 */
export class Wire {
  private readonly agent = new Agent({ keepAlive: true, maxSockets: Infinity });

  constructor(
    private readonly url: string,
    private readonly token: string | null,
  ) {}

  send({ method, path, body, headers = {} }: WireRequest): Promise<WireAnswer> {
    const payload = body === undefined ? null : JSON.stringify(body);
    const all = {
      ...(this.token === null ? {} : { authorization: `Bearer ${this.token}` }),
      ...(payload === null ? {} : { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(payload)) }),
      ...headers,
    };
    return new Promise((resolve, reject) => {
      const sent = request(new URL(path, this.url), { method, headers: all, agent: this.agent }, (reply) => {
        readAnswer(reply).then(resolve, reject);
      });
      sent.once('error', reject);
      sent.end(payload ?? undefined);
    });
  }

  /** Enters a record. */
  post(path: string, body: object, headers: Readonly<Record<string, string>> = {}): Promise<WireAnswer> {
    return this.send({ method: 'POST', path: `/api/${path}`, body, headers });
  }

  /** Amends version `version` of a record. */
  amend(path: string, version: number, changes: object): Promise<WireAnswer> {
    const headers = { 'if-match': `"${version}"` };
    return this.send({ method: 'PATCH', path: `/api/${path}`, body: { reason: 'Read again in good light', ...changes }, headers });
  }

  get(path: string): Promise<WireAnswer> {
    return this.send({ method: 'GET', path: `/api/${path}` });
  }

  close(): void {
    this.agent.destroy();
  }
}

async function readAnswer(reply: IncomingMessage): Promise<WireAnswer> {
  const parts: Buffer[] = [];
  for await (const part of reply) parts.push(part as Buffer);
  const body = JSON.parse(Buffer.concat(parts).toString('utf8')) as Record<string, unknown>;
  return { status: reply.statusCode ?? 0, body };
}
