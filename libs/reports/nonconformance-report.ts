import { checkReportData } from './check-report-data.js';
import type { NonconformanceReportData } from './nonconformance-data.js';
import { drawSections } from './nonconformance-sections.js';
import { PageFrame, type PageFrameText } from './page-frame.js';
import { reportCanvas, type ReportOptions } from './report-canvas.js';
import { printFooter } from './shared-sections.js';

function frameText(data: NonconformanceReportData): PageFrameText {
  const { identity } = data;
  const marks = [...new Set(data.extents.flatMap((extent) => extent.marks))];
  return {
    header: [
      [`Nonconformance report ${identity.number}`, `Version ${identity.version}, ${identity.state}`],
      [`Well ${identity.well}`, `String ${identity.string}`],
    ],
    warning: marks.length === 0 ? '' : `Marked: ${marks.join('; ')}`,
    footer: printFooter(data),
  };
}

/**
 * The report of one nonconformance as a PDF, in a stream. The same data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function nonconformanceReport(data: NonconformanceReportData, options: ReportOptions): PDFKit.PDFDocument {
  checkReportData(data);
  const title = `Nonconformance report ${data.identity.number}, version ${data.identity.version}`;
  const canvas = reportCanvas(options.paper, title, data.generatedAt, options);
  const frame = new PageFrame(canvas, frameText(data));
  drawSections(frame, data);
  frame.finish();
  canvas.document.end();
  return canvas.document;
}
