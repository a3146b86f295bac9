/** Draws reports in a thread of its own, one after another: a message in for each, a message out. */
import { parentPort } from 'node:worker_threads';
import { coilSheet, coilTag, collectBytes, nonconformanceReport } from '#libs/reports';
import type { DrawAnswer, DrawOrder } from './draw-order.js';

const port = parentPort;

function documentFor(order: DrawOrder): PDFKit.PDFDocument {
  switch (order.report) {
    case 'nonconformance':
      return nonconformanceReport(order.data, { paper: order.paper });
    case 'coil-sheet':
      return coilSheet(order.data, { paper: order.paper });
    case 'coil-tag':
      return coilTag(order.data);
  }
}

async function answerTo(order: DrawOrder): Promise<DrawAnswer> {
  try {
    return { bytes: new Uint8Array(await collectBytes(documentFor(order))) };
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
