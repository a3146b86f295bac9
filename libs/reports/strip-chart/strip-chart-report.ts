import { PageFrame, type PageFrameText } from '../page-frame.js';
import { reportCanvas, type ReportOptions } from '../report-canvas.js';
import { checkPrint, drawCautions, drawThisPrint, orNone, type PrintDetails, printFooter } from '../shared-sections.js';
import { stripChartCautions } from './chart-cautions.js';
import type { StripChart } from './chart-data.js';
import { drawChartPages } from './chart-pages.js';
import { checkStripChart } from './check-chart.js';
import { rangeWords } from './head-block.js';

/** A strip chart as a paper: what it is of, and which data it was drawn from. */
export interface StripChartReportData extends PrintDetails {
  readonly well: string;
  readonly string: string;
  /** What was known, and as of which instant or version, in words. */
  readonly revision: string;
  readonly chart: StripChart;
}

function frameText(data: StripChartReportData): PageFrameText {
  const { chart } = data;
  const doubts = [...new Set(chart.axis.unsure.map(({ words }) => words))];
  return {
    header: [
      [chart.titles[0] ?? '', orNone(data.revision)],
      [`Well ${data.well}`, `String ${data.string}, ${rangeWords(chart.axis)}`],
    ],
    warning: doubts.length === 0 ? '' : `Marked: ${doubts.join('; ')}`,
    footer: printFooter(data),
  };
}

/**
 * A strip chart as a PDF on paper laid across, in a stream: the channels over as many pages as they take, then the cautions. The
 * same data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function stripChartReport(data: StripChartReportData, options: ReportOptions): PDFKit.PDFDocument {
  checkPrint(data);
  checkStripChart('chart', data.chart);
  const canvas = reportCanvas(`${options.paper}-across`, data.chart.titles[0] ?? '', data.generatedAt, options);
  const frame = new PageFrame(canvas, frameText(data));
  for (const title of data.chart.titles.slice(1)) frame.paragraph(title);
  frame.gap();
  drawChartPages(data.chart, frame);
  drawCautions(frame, stripChartCautions(data.chart));
  drawThisPrint(frame, data, 'End of chart');
  frame.finish();
  canvas.document.end();
  return canvas.document;
}
