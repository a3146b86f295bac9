import { request, type IncomingMessage } from 'node:http';

/** A part of an upload as it is sent. */
export interface PartRequest {
  readonly uploadId: string;
  readonly partNo: number;
  /** What stands after the question mark. */
  readonly query: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly bytes: Uint8Array;
}

export interface PartAnswer {
  readonly status: number;
  readonly retryAfterSeconds: number | null;
  readonly body: Record<string, unknown>;
}

/** Sends parts as one person or line computer, each over a connection of its own; gives up one that stands still for `patienceMs`. */
export class PartSender {
  constructor(
    private readonly url: string,
    private readonly token: string,
    private readonly patienceMs: number,
  ) {}

  /** Rejects when no whole answer comes. */
  put({ uploadId, partNo, query, headers, bytes }: PartRequest): Promise<PartAnswer> {
    return this.send('PUT', `/api/signal-uploads/${uploadId}/parts/${partNo}?${query}`, { ...headers, 'content-length': String(bytes.length) }, bytes);
  }

  json(method: 'GET' | 'POST', path: string, body?: object): Promise<PartAnswer> {
    const text = body === undefined ? new Uint8Array() : Buffer.from(JSON.stringify(body));
    return this.send(method, path, body === undefined ? {} : { 'content-type': 'application/json', 'content-length': String(text.length) }, text);
  }

  private send(method: string, path: string, headers: Readonly<Record<string, string>>, bytes: Uint8Array): Promise<PartAnswer> {
    return new Promise((resolve, reject) => {
      const sent = request(new URL(path, this.url), { method, agent: false, headers: { authorization: `Bearer ${this.token}`, ...headers } }, (reply) => {
        answerOf(reply).then(resolve, reject);
      });
      sent.setTimeout(this.patienceMs, () => { sent.destroy(new Error('the line is silent')); });
      sent.once('error', reject);
      sent.end(bytes);
    });
  }
}

/** A whole answer; one without JSON is an error, as is one that was cut. */
export async function answerOf(reply: IncomingMessage): Promise<PartAnswer> {
  const parts: Buffer[] = [];
  for await (const part of reply) parts.push(part as Buffer);
  const retryAfter = reply.headers['retry-after'];
  return {
    status: reply.statusCode ?? 0, retryAfterSeconds: retryAfter === undefined ? null : Number(retryAfter),
    body: JSON.parse(Buffer.concat(parts).toString('utf8')) as Record<string, unknown>,
  };
}
