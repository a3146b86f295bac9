import { checkCoilSheetData } from './check-coil-data.js';
import type { CoilSheetData } from './coil-data.js';
import { drawCoilSections } from './coil-sheet-sections.js';
import { PageFrame, type PageFrameText } from './page-frame.js';
import { reportCanvas, type ReportOptions } from './report-canvas.js';
import { orNone, printFooter } from './shared-sections.js';
import { VERDICT_WORDS } from './verdict-mark.js';

function frameText(data: CoilSheetData): PageFrameText {
  const { identity, verdict } = data;
  return {
    header: [
      [`Coil sheet ${identity.number}`, `Version ${identity.version}, ${orNone(identity.state)}`],
      [`Heat ${identity.heat}, grade ${orNone(identity.grade)}`, `Verdict: ${VERDICT_WORDS[verdict]}`],
    ],
    warning: '',
    footer: printFooter(data),
  };
}

/**
 * Everything known of one coil against its specification, with decision and signatures, as a PDF in a stream. The same
 * data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function coilSheet(data: CoilSheetData, options: ReportOptions): PDFKit.PDFDocument {
  checkCoilSheetData(data);
  const title = `Coil sheet ${data.identity.number}, version ${data.identity.version}`;
  const canvas = reportCanvas(options.paper, title, data.generatedAt, options);
  const frame = new PageFrame(canvas, frameText(data));
  drawCoilSections(frame, data);
  frame.finish();
  canvas.document.end();
  return canvas.document;
}
