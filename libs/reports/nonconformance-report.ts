import { Canvas, type CanvasOptions, type Paper } from './canvas.js';
import { checkReportData } from './check-report-data.js';
import { formatInstant } from './instants-and-lengths.js';
import type { NonconformanceReportData } from './nonconformance-data.js';
import { drawSections } from './nonconformance-sections.js';
import { PageFrame, type PageFrameText } from './page-frame.js';
import { codeOf } from './visible-text.js';

export interface NonconformanceReportOptions {
  readonly paper: Paper;
  /** BCP 47 tag of the report's main language; English when left out. */
  readonly language?: string;
  readonly isCompressed?: boolean;
  readonly record?: CanvasOptions['record'];
}

const FINGERPRINT_START = 16;

function frameText(data: NonconformanceReportData): PageFrameText {
  const { identity } = data;
  const marks = [...new Set(data.extents.flatMap((extent) => extent.marks))];
  return {
    header: [
      [`Nonconformance report ${identity.number}`, `Version ${identity.version}, ${identity.state}`],
      [`Well ${identity.well}`, `String ${identity.string}`],
    ],
    warning: marks.length === 0 ? '' : `Marked: ${marks.join('; ')}`,
    footer: [
      [`Generated ${formatInstant(data.generatedAt)}`, `Data cut-off ${formatInstant(data.dataCutOff)}`],
      [`Fingerprint SHA-256 ${data.fingerprintSha256.slice(0, FINGERPRINT_START)}…`, ''],
    ],
  };
}

/** A document title has one line and no characters that steer a reader's screen. */
function documentTitle(data: NonconformanceReportData): string {
  const title = `Nonconformance report ${data.identity.number}, version ${data.identity.version}`;
  return title.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, codeOf);
}

/**
 * The report of one nonconformance as a PDF, in a stream. The same data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function nonconformanceReport(data: NonconformanceReportData, options: NonconformanceReportOptions): PDFKit.PDFDocument {
  checkReportData(data);
  const canvas = new Canvas({
    paper: options.paper,
    title: documentTitle(data),
    language: options.language ?? 'en',
    createdAt: new Date(data.generatedAt),
    isCompressed: options.isCompressed,
    record: options.record,
  });
  const frame = new PageFrame(canvas, frameText(data));
  drawSections(frame, data);
  frame.finish();
  canvas.document.end();
  return canvas.document;
}
