import { parentPort } from 'node:worker_threads';

/** An error as it travels between threads; what else it holds of plain values travels with it. */
export interface ThreadError {
  readonly name: string;
  readonly message: string;
  readonly stack: string;
  readonly [member: string]: unknown;
}

/** What a thread sends back for an order: what was made of it, or why nothing was. */
export type ThreadAnswer<R> = { readonly done: R } | { readonly error: ThreadError };

/**
 * Has this thread do each order it is sent, one message in and one out. `transferred`: the memory of an answer that passes to
 * the other thread instead of being copied.
 */
export function serveOrders<R>(work: (order: never) => R | Promise<R>, transferred: (answer: R) => readonly ArrayBuffer[]): void {
  const port = parentPort;
  port?.on('message', (order: unknown) => {
    // Whoever starts the thread sends it what `work` takes.
    new Promise<R>((resolve) => { resolve(work(order as never)); }).then(
      (done) => { port.postMessage({ done } satisfies ThreadAnswer<R>, transferred(done)); },
      (error: unknown) => { port.postMessage({ error: asError(error) } satisfies ThreadAnswer<R>); },
    );
  });
}

function asError(error: unknown): ThreadError {
  const { name, message, stack, ...members } = error instanceof Error ? error : new Error(String(error));
  return { ...members, name, message, stack: stack ?? '' };
}
