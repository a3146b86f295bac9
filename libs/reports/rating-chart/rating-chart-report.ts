import { checkInstant, checkPresent, checkSha256 } from '../check-fields.js';
import { formatInterval } from '../instants-and-lengths.js';
import { PageFrame, type PageFrameText } from '../page-frame.js';
import { reportCanvas, type ReportOptions } from '../report-canvas.js';
import { drawCautions, drawThisPrint, orNone, type PrintDetails, printFooter } from '../shared-sections.js';
import { frameOf } from '../strip-chart/chart-frame.js';
import { drawBlock, EM_PT, rulerOf } from '../strip-chart/chart-pages.js';
import { scaleBlock } from '../strip-chart/head-block.js';
import { assumedWords, depthWords, knownAtWords, ratingKeyBlock, reasonWords, weakestWords } from './rating-chart-blocks.js';
import { checkRatingChart, type RatingChart } from './rating-chart-data.js';
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

function checkData(data: RatingChartReportData): void {
  checkPresent('well', data.well);
  checkPresent('string', data.string);
  checkInstant('dataCutOff', data.dataCutOff);
  checkInstant('generatedAt', data.generatedAt);
  checkSha256('fingerprintSha256', data.fingerprintSha256);
  checkRatingChart('chart', data.chart);
}

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
  checkData(data);
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

/** As high as leaves no room, the scale and the key on each page. */
function drawPanels(chart: RatingChart, page: PageFrame): void {
  const frame = frameOf(chart.axis, page.widthPt, EM_PT, rulerOf(page.canvas));
  const [head, key] = [scaleBlock({ quantity: 'measured depth', depth: chart.depth }, frame), ratingKeyBlock(frame)];
  const leastPt = (panel: RatingChart['panels'][number]): number => ratingPanelBlock(panel, frame, LEAST_PLOT_EM * EM_PT).heightPt;
  const gapPt = 0.6 * EM_PT;
  for (let from = 0; from < chart.panels.length;) {
    if (from > 0) page.newPage();
    const roomPt = page.roomPt - head.heightPt - key.heightPt - gapPt;
    let [to, usedPt] = [from, 0];
    for (let panel = chart.panels[to]; panel !== undefined && (to === from || usedPt + leastPt(panel) <= roomPt); panel = chart.panels[to]) {
      usedPt += leastPt(panel);
      to += 1;
    }
    const morePt = Math.max(0, roomPt - usedPt) / (to - from);
    drawBlock(head, page);
    page.yPt += gapPt;
    for (const panel of chart.panels.slice(from, to)) drawBlock(ratingPanelBlock(panel, frame, Math.min(PLOT_MOST_EM * EM_PT, LEAST_PLOT_EM * EM_PT + morePt)), page);
    drawBlock(key, page);
    from = to;
  }
}
