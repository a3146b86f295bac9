/** Draws reports in a thread of its own, one after another: a message in for each, a message out. */
import { parentPort } from 'node:worker_threads';
import { collectBytes, nonconformanceReport } from '#libs/reports';
import type { DrawAnswer, DrawOrder } from './draw-order.js';

const port = parentPort;

async function answerTo({ data, paper }: DrawOrder): Promise<DrawAnswer> {
  try {
    return { bytes: new Uint8Array(await collectBytes(nonconformanceReport(data, { paper }))) };
  } catch (error) {
    const { name, message, stack } = error instanceof Error ? error : new Error(String(error));
    return { error: { name, message, stack: stack ?? '' } };
  }
}

port?.on('message', (order: DrawOrder) => {
  void answerTo(order).then((answer) => {
    port.postMessage(answer, 'bytes' in answer ? [answer.bytes.buffer] : []);
  });
});
