import { formatInterval } from '../instants-and-lengths.js';
import { PageFrame, type PageFrameText } from '../page-frame.js';
import { reportCanvas, type ReportOptions } from '../report-canvas.js';
import { checkPrint, drawCautions, drawThisPrint, orNone, type PrintDetails, printFooter } from '../shared-sections.js';
import { frameOf } from '../strip-chart/chart-frame.js';
import { EM_PT, rulerOf } from '../strip-chart/chart-pages.js';
import { scaleBlock } from '../strip-chart/head-block.js';
import { drawPanelPages } from '../strip-chart/panel-pages.js';
import { type Block, stacked } from '../strip-chart/shapes.js';
import { assumedWords, depthWords, knownAtWords, ratingKeyBlock, reasonWords, weakestWords } from './rating-chart-blocks.js';
import { checkRatingChart, type RatingChart, type RatingPanel } from './rating-chart-data.js';
import { LEAST_PLOT_EM, ratingPanelBlock } from './rating-panel.js';

/** A rating profile as a paper: what it is of, and which data it was drawn from. */
export interface RatingChartReportData extends PrintDetails {
  readonly well: string;
  readonly string: string;
  readonly chart: RatingChart;
}

/** On every page, with the chart or without it. */
const ADVISORY = 'Advisory: computed for round, uniform, unfolded pipe. Read the cautions. The responsible engineer decides.';
const PLOT_MOST_EM = 16;

const frameText = (data: RatingChartReportData): PageFrameText => ({
  header: [
    [data.chart.titles[0] ?? '', orNone(knownAtWords(data.chart))],
    [`Well ${data.well}`, `String ${data.string}, measured depth ${formatInterval(data.chart.axis)}`],
  ],
  warning: [ADVISORY, ...assumedWords(data.chart)].join(' '), footer: printFooter(data),
});

/**
 * A rating profile as a PDF on paper laid across, in a stream: the panels over as many pages as they take, then what the weakest rests
 * on, what is not computable and why, and the cautions. The same data and options give the same bytes.
 * @throws ReportDataError for data that cannot be drawn truthfully, ReportTooLongError beyond 400 pages.
 */
export function ratingChartReport(data: RatingChartReportData, options: ReportOptions): PDFKit.PDFDocument {
  checkPrint(data);
  checkRatingChart('chart', data.chart);
  const { chart } = data;
  const canvas = reportCanvas(`${options.paper}-across`, chart.titles[0] ?? '', data.generatedAt, options);
  const page = new PageFrame(canvas, frameText(data));
  for (const title of chart.titles.slice(1)) page.paragraph(title);
  page.gap();
  drawPanels(chart, page);
  page.heading('Weakest of each wall');
  page.paragraph(depthWords(chart));
  chart.panels.forEach((panel) => { page.paragraph(weakestWords(panel)); });
  page.heading('Not computable');
  const reasons = reasonWords(chart);
  (reasons.length === 0 ? ['none: all of the pipe that was asked about is rated'] : reasons).forEach((reason) => { page.paragraph(reason); });
  drawCautions(page, chart.cautions);
  drawThisPrint(page, data, 'End of profile');
  page.finish();
  canvas.document.end();
  return canvas.document;
}

function drawPanels(chart: RatingChart, page: PageFrame): void {
  const frame = frameOf(chart.axis, page.widthPt, EM_PT, rulerOf(page.canvas));
  const head = stacked([scaleBlock({ quantity: 'measured depth', depth: chart.depth }, frame), { heightPt: 0.6 * EM_PT, shapes: [] }]);
  const blockOf = (panel: RatingPanel, plotPt: number): Block => ratingPanelBlock(panel, frame, plotPt);
  drawPanelPages({ panels: chart.panels, head, foot: ratingKeyBlock(frame), blockOf, leastPt: LEAST_PLOT_EM * EM_PT, mostPt: PLOT_MOST_EM * EM_PT }, page);
}
