/** Draws reports in a thread of its own, one after another. */
import { coilSheet, coilTag, collectBytes, controlChartReport, nonconformanceReport, ratingChartReport, stripChartReport } from '#libs/reports';
import { serveOrders } from '../threads/thread-answer.js';
import type { DrawOrder } from './draw-order.js';

function documentFor(order: DrawOrder): PDFKit.PDFDocument {
  switch (order.report) {
    case 'nonconformance':
      return nonconformanceReport(order.data, { paper: order.paper });
    case 'coil-sheet':
      return coilSheet(order.data, { paper: order.paper });
    case 'coil-tag':
      return coilTag(order.data);
    case 'control-chart':
      return controlChartReport(order.data, { paper: order.paper });
    case 'rating-chart':
      return ratingChartReport(order.data, { paper: order.paper });
    case 'strip-chart':
      return stripChartReport(order.data, { paper: order.paper });
  }
}

serveOrders(
  async (order: DrawOrder) => new Uint8Array(await collectBytes(documentFor(order))),
  ({ buffer }) => [buffer],
);
