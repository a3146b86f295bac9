import { once } from 'node:events';
import { request, type ClientRequest, type IncomingMessage } from 'node:http';

/** A listener to server-sent events, on a connection of its own, by the HTML Living Standard, 9.2.6: as plain as can be, and nothing of the program's own. */

export interface HeardEvent {
  readonly event: string;
  readonly id: string | null;
  readonly data: Record<string, unknown>;
  /** By the process's monotonic clock, ms. */
  readonly heardAt: number;
}

export class EventListener {
  readonly events: HeardEvent[] = [];
  readonly comments: string[] = [];
  retryMs: number | null = null;
  /** True once the server ended the stream, or it broke. */
  isOver = false;
  private wake: () => void = () => undefined;

  private constructor(private readonly asked: ClientRequest, readonly response: IncomingMessage) {}

  /** Connects; reads on in the background where the answer is a stream of events. */
  static async open(url: string, headers: Readonly<Record<string, string>>): Promise<EventListener> {
    const asked = request(url, { headers: { accept: 'text/event-stream', ...headers }, agent: false }).end();
    const [response] = await once(asked, 'response') as [IncomingMessage];
    const listener = new EventListener(asked, response);
    void listener.read();
    return listener;
  }

  get status(): number {
    return this.response.statusCode ?? 0;
  }

  get last(): HeardEvent | undefined {
    return this.events.at(-1);
  }

  /** The first event from number `from` on for which this holds; throws when none comes in time. */
  async until(holds: (event: HeardEvent) => boolean, withinMs: number, from = 0): Promise<HeardEvent> {
    const end = performance.now() + withinMs;
    for (;;) {
      const found = this.events.slice(from).find(holds);
      if (found !== undefined) return found;
      const leftMs = end - performance.now();
      if (leftMs <= 0) throw new Error(`no such event within ${withinMs} ms; the last of ${this.events.length}: ${JSON.stringify(this.last ?? null).slice(0, 500)}`);
      await this.stir(leftMs);
    }
  }

  /** Waits until the server ended the stream. */
  async ended(withinMs: number): Promise<void> {
    const end = performance.now() + withinMs;
    while (!this.isOver) {
      if (performance.now() >= end) throw new Error(`the stream did not end within ${withinMs} ms`);
      await this.stir(end - performance.now());
    }
  }

  close(): void {
    this.asked.destroy();
  }

  private stir(mostMs: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, mostMs);
      this.wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  private async read(): Promise<void> {
    const decoder = new TextDecoder();
    let text = '';
    try {
      for await (const bytes of this.response as AsyncIterable<Uint8Array>) {
        text += decoder.decode(bytes, { stream: true });
        const blocks = text.split('\n\n');
        text = blocks.pop() ?? '';
        for (const block of blocks) this.take(block);
        this.wake();
      }
    } catch {
      // Closed by us, or broken: either way it is over.
    }
    this.isOver = true;
    this.wake();
  }

  private take(block: string): void {
    const fields = new Map<string, string>();
    for (const line of block.split('\n')) {
      const [, name = '', value = ''] = /^([^:]*):? ?(.*)$/.exec(line) ?? [];
      if (name === '') this.comments.push(value);
      else fields.set(name, fields.has(name) ? `${fields.get(name) ?? ''}\n${value}` : value);
    }
    if (fields.has('retry')) this.retryMs = Number(fields.get('retry'));
    const data = fields.get('data');
    if (data === undefined) return;
    this.events.push({ event: fields.get('event') ?? 'message', id: fields.get('id') ?? null, data: JSON.parse(data) as Record<string, unknown>, heardAt: performance.now() });
  }
}
