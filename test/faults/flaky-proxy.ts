import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import type { Random } from '../fixtures/signals.js';

/** What a bad line does to one request and its answer. */
export const FATES = ['clean', 'dropped', 'request-cut', 'answer-lost', 'answer-cut', 'delayed', 'silent'] as const;
export type Fate = (typeof FATES)[number];

const LONGEST_DELAY_MS = 250;

interface Passage {
  readonly client: Socket;
  readonly server: Socket;
  readonly fate: Fate;
  /** Bytes of the request that pass. */
  passes: number;
  passed: number;
  /** What comes while the request is held back. */
  held: Buffer[] | null;
  isAnswered: boolean;
}

/**
 * A line between senders and a server, one request a connection:
 * - `dropped`: ends before the server sees a byte;
 * - `request-cut`: ends within the head or the body, as a close or as a reset;
 * - `answer-lost`: the request passes whole, of the answer nothing;
 * - `answer-cut`: the answer ends within;
 * - `delayed`: the second half of the request comes late;
 * - `silent`: from within the request on nothing passes any more, and nobody is told: the server keeps a connection to nobody.
 */
export class FlakyProxy {
  /** Faults that came to pass. */
  readonly counts: Record<Fate, number> = Object.fromEntries(FATES.map((fate) => [fate, 0])) as Record<Fate, number>;
  private readonly passages = new Set<Passage>();
  private readonly sockets = new Set<Socket>();
  private port = 0;

  private constructor(
    private readonly server: Server,
    private readonly random: Random,
    private readonly fateOf: (requestLine: string) => Fate,
  ) {}

  /** Listens on a free port. `fateOf` is asked once for each request. */
  static async open(random: Random, fateOf: (requestLine: string) => Fate): Promise<FlakyProxy> {
    const server = createServer();
    const proxy = new FlakyProxy(server, random, fateOf);
    server.on('connection', (client) => { proxy.take(client); });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    return proxy;
  }

  get url(): string {
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`;
  }

  /** Where requests go from now on. */
  leadTo(url: string): void {
    this.port = Number(new URL(url).port);
  }

  /** Requests of which the server has some and that it has not answered; those that fell silent do not count. */
  get inFlight(): number {
    return [...this.passages].filter(({ passed, isAnswered, fate }) => passed > 0 && !isAnswered && fate !== 'silent').length;
  }

  close(): void {
    this.server.close();
    for (const socket of this.sockets) socket.destroy();
  }

  private take(client: Socket): void {
    this.watch(client);
    client.once('data', (first: Buffer) => {
      client.pause();
      const server = connect(this.port, '127.0.0.1');
      this.watch(server);
      // A request that finds no server meets no fault of the line.
      server.once('connect', () => {
        const fate = this.fateOf(first.toString('latin1', 0, Math.max(first.indexOf('\r\n'), 0)));
        if (fate === 'dropped') {
          this.counts.dropped += 1;
          server.destroy();
          client.destroy();
        } else this.lead({ client, server, fate, passes: this.passing(fate, first), passed: 0, held: null, isAnswered: false }, first);
      });
      // Nobody listens: the server is being started.
      server.once('error', () => { client.destroy(); });
    });
  }

  private watch(socket: Socket): void {
    this.sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => { this.sockets.delete(socket); });
  }

  /** How much of the request passes: anything from one byte up to all but one. */
  private passing(fate: Fate, first: Buffer): number {
    if (fate !== 'request-cut' && fate !== 'silent' && fate !== 'delayed') return Infinity;
    const head = first.indexOf('\r\n\r\n') + 4;
    const declared = /content-length: (\d+)/i.exec(first.toString('latin1', 0, head))?.[1];
    return 1 + Math.trunc(this.random() * (head + Number(declared ?? 0) - 1));
  }

  private lead(passage: Passage, first: Buffer): void {
    const { client, server } = passage;
    this.passages.add(passage);
    server.once('close', () => {
      this.passages.delete(passage);
      // Whoever waits for a silent line is not told that its other end is gone.
      if (passage.fate !== 'silent') client.destroy();
    });
    client.once('close', () => { if (passage.fate !== 'silent') server.destroy(); });
    server.on('data', (answer: Buffer) => { this.back(passage, answer); });
    client.on('data', (bytes: Buffer) => { this.forth(passage, bytes); });
    this.forth(passage, first);
    client.resume();
  }

  private forth(passage: Passage, bytes: Buffer): void {
    const { server, client, fate } = passage;
    if (server.destroyed) return;
    if (passage.held !== null) {
      passage.held.push(bytes);
      return;
    }
    const left = passage.passes - passage.passed;
    if (left <= 0) return;
    const passing = bytes.subarray(0, left);
    passage.passed += passing.length;
    if (!server.write(passing) && fate !== 'silent') {
      client.pause();
      server.once('drain', () => { client.resume(); });
    }
    if (passage.passed === passage.passes) this.atCut(passage, bytes.subarray(left));
  }

  private atCut(passage: Passage, rest: Buffer): void {
    const { server, client, fate } = passage;
    this.counts[fate] += 1;
    if (fate === 'silent') return;
    if (fate === 'request-cut') {
      if (this.random() < 0.5) server.resetAndDestroy();
      else server.destroySoon();
      client.destroy();
      return;
    }
    passage.passes = Infinity;
    const held = passage.held = [rest];
    setTimeout(() => {
      passage.held = null;
      for (const piece of held) this.forth(passage, piece);
    }, this.random() * LONGEST_DELAY_MS);
  }

  private back(passage: Passage, answer: Buffer): void {
    const { client, server, fate } = passage;
    if (fate === 'silent') return;
    const isFirst = !passage.isAnswered;
    passage.isAnswered = true;
    if (fate !== 'answer-lost' && fate !== 'answer-cut') {
      client.write(answer);
      return;
    }
    if (!isFirst) return;
    this.counts[fate] += 1;
    if (fate === 'answer-cut') client.write(answer.subarray(0, 1 + Math.trunc(this.random() * (answer.length - 1))), () => { client.destroy(); });
    else client.destroy();
    server.destroy();
  }
}
